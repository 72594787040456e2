import { useFrame, useThree } from "@react-three/fiber";
import { useEffect, useRef } from "react";
import * as THREE from "three";
import { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";

/** Named places to look from; `turn` changes with every request, so that one can be repeated. */
export interface Viewpoint {
  from: "corner" | "front" | "side" | "back" | "above";
  turn: number;
}

// Direction from the vehicle to the eye on the stage: x to its left, y up, z to its front.
const directions: Record<Viewpoint["from"], readonly [number, number, number]> = {
  corner: [0.66, 0.3, 0.74],
  front: [0.0001, 0.16, 1],
  side: [1, 0.12, 0.0001],
  back: [0.62, 0.32, -0.78],
  above: [0.0005, 1, 0.001],
};
const glideSeconds = 0.45;
const keyTurn = Math.PI / 24;

/** Turns the camera about the vehicle with pointer, wheel, keys and named viewpoints; the
 * pointer does so only while `turns`. */
export function useOrbit(bounds: THREE.Box3, viewpoint: Viewpoint, turns = true) {
  const { camera, gl, invalidate, size } = useThree();
  const controls = useRef<OrbitControls>(null);
  const glide = useRef<{ from: THREE.Vector3; to: THREE.Vector3; spent: number }>(null);

  useEffect(() => {
    const orbit = new OrbitControls(camera, gl.domElement);
    orbit.enableDamping = true;
    orbit.dampingFactor = 0.12;
    orbit.enablePan = false;
    orbit.maxPolarAngle = Math.PI * 0.495;
    orbit.target.copy(targetOf(bounds));
    orbit.minDistance = 1.2;
    orbit.maxDistance = 26;
    const changed = () => invalidate();
    orbit.addEventListener("change", changed);
    orbit.addEventListener("start", () => (glide.current = null));
    controls.current = orbit;

    const holder = gl.domElement.closest<HTMLElement>("[data-orbit]");
    const key = (event: KeyboardEvent) => {
      if (turnByKey(camera, orbit, event.key)) {
        event.preventDefault();
        glide.current = null;
        invalidate();
      }
    };
    holder?.addEventListener("keydown", key);
    return () => {
      holder?.removeEventListener("keydown", key);
      orbit.dispose();
    };
  }, [camera, gl, bounds, invalidate]);

  useEffect(() => {
    if (controls.current) controls.current.enableRotate = turns;
  }, [turns, camera, gl, bounds]);

  // The distance follows the picture's shape when a viewpoint is asked for, not while turning.
  const aspect = useRef(1);
  useEffect(() => {
    aspect.current = size.width / Math.max(1, size.height);
  }, [size]);
  const placed = useRef(false);
  useEffect(() => {
    const direction = new THREE.Vector3(...directions[viewpoint.from]).normalize();
    const target = targetOf(bounds);
    const goal = direction
      .clone()
      .multiplyScalar(distanceFor(bounds, direction, camera, aspect.current))
      .add(target);
    const still = window.matchMedia("(prefers-reduced-motion: reduce)").matches;
    if (placed.current && !still)
      glide.current = { from: camera.position.clone(), to: goal, spent: 0 };
    else {
      camera.position.copy(goal);
      camera.lookAt(target);
      placed.current = true;
    }
    invalidate();
  }, [viewpoint, bounds, camera, invalidate]);

  useFrame((_, delta) => {
    const moving = glide.current;
    if (moving) {
      moving.spent = Math.min(1, moving.spent + Math.min(delta, 0.1) / glideSeconds);
      between(moving.from, moving.to, targetOf(bounds), ease(moving.spent), camera.position);
      if (moving.spent === 1) glide.current = null;
      invalidate();
    }
    controls.current?.update();
  });
}

const targetOf = (bounds: THREE.Box3) => {
  const centre = bounds.getCenter(new THREE.Vector3());
  centre.y = bounds.min.y + (bounds.max.y - bounds.min.y) * 0.46;
  return centre;
};

/** How far the eye must stand so that all corners of the bounds are in the picture. */
function distanceFor(
  bounds: THREE.Box3,
  direction: THREE.Vector3,
  camera: THREE.Camera,
  aspect: number,
): number {
  const upright =
    camera instanceof THREE.PerspectiveCamera ? Math.tan((camera.fov * Math.PI) / 360) : 0.25;
  const target = targetOf(bounds);
  const side = new THREE.Vector3().crossVectors(new THREE.Vector3(0, 1, 0), direction).normalize();
  const up = new THREE.Vector3().crossVectors(direction, side);
  let distance = 0;
  for (let corner = 0; corner < 8; corner++) {
    const point = new THREE.Vector3(
      corner & 1 ? bounds.max.x : bounds.min.x,
      corner & 2 ? bounds.max.y : bounds.min.y,
      corner & 4 ? bounds.max.z : bounds.min.z,
    ).sub(target);
    const depth = point.dot(direction);
    distance = Math.max(
      distance,
      depth + Math.abs(point.dot(side)) / (upright * aspect),
      depth + Math.abs(point.dot(up)) / upright,
    );
  }
  return distance * 0.94;
}

function between(
  from: THREE.Vector3,
  to: THREE.Vector3,
  target: THREE.Vector3,
  t: number,
  out: THREE.Vector3,
) {
  const a = new THREE.Spherical().setFromVector3(from.clone().sub(target));
  const b = new THREE.Spherical().setFromVector3(to.clone().sub(target));
  let turn = b.theta - a.theta;
  if (turn > Math.PI) turn -= 2 * Math.PI;
  if (turn < -Math.PI) turn += 2 * Math.PI;
  const middle = new THREE.Spherical(
    a.radius + (b.radius - a.radius) * t,
    a.phi + (b.phi - a.phi) * t,
    a.theta + turn * t,
  );
  out.setFromSpherical(middle).add(target);
}

const ease = (t: number) => t * t * (3 - 2 * t);

function turnByKey(camera: THREE.Camera, orbit: OrbitControls, key: string): boolean {
  const place = new THREE.Spherical().setFromVector3(camera.position.clone().sub(orbit.target));
  if (key === "ArrowLeft") place.theta -= keyTurn;
  else if (key === "ArrowRight") place.theta += keyTurn;
  else if (key === "ArrowUp") place.phi -= keyTurn;
  else if (key === "ArrowDown") place.phi += keyTurn;
  else if (key === "+" || key === "=") place.radius /= 1.15;
  else if (key === "-") place.radius *= 1.15;
  else return false;
  place.phi = Math.min(orbit.maxPolarAngle, Math.max(0.02, place.phi));
  place.radius = Math.min(orbit.maxDistance, Math.max(orbit.minDistance, place.radius));
  camera.position.setFromSpherical(place).add(orbit.target);
  camera.lookAt(orbit.target);
  return true;
}
