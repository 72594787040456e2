import * as THREE from "three";
import type { Rgb } from "@/canvas/ramp";
import { toStage, type VehiclePoint } from "./frame";

/** A panel's own mesh with one colour to each triangle, in the stage's frame. */
export function strainSurface(
  points: readonly VehiclePoint[],
  triangles: readonly (readonly [number, number, number])[],
  colours: readonly Rgb[],
): THREE.BufferGeometry {
  const position = new Float32Array(triangles.length * 9);
  const colour = new Float32Array(triangles.length * 9);
  const linear = new THREE.Color();
  triangles.forEach((corners, t) => {
    linear.setRGB(...(colours[t] ?? [1, 1, 1]), THREE.SRGBColorSpace);
    corners.forEach((vertex, k) => {
      const at = 9 * t + 3 * k;
      position.set(toStage(points[vertex] ?? [0, 0, 0]), at);
      colour.set([linear.r, linear.g, linear.b], at);
    });
  });
  const geometry = new THREE.BufferGeometry();
  geometry.setAttribute("position", new THREE.BufferAttribute(position, 3));
  geometry.setAttribute("color", new THREE.BufferAttribute(colour, 3));
  geometry.computeVertexNormals();
  return geometry;
}
