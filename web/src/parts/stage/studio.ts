import * as THREE from "three";

/**
 * The light of the stage, made by code: a dark room with a large soft box overhead, two long
 * strips at the sides and a pale floor, so that curvature shows as clean reflections.
 */
export function studioScene(): THREE.Scene {
  const scene = new THREE.Scene();
  const walls = new THREE.Mesh(
    new THREE.SphereGeometry(50, 32, 16),
    new THREE.ShaderMaterial({
      side: THREE.BackSide,
      vertexShader: `varying vec3 at; void main() { at = normalize(position);
        gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }`,
      fragmentShader: `varying vec3 at; void main() {
        float up = normalize(at).y;
        vec3 sky = mix(vec3(0.10, 0.11, 0.12), vec3(0.34, 0.36, 0.38), smoothstep(0.0, 0.8, up));
        vec3 floorColour = vec3(0.20, 0.19, 0.18);
        gl_FragColor = vec4(mix(floorColour, sky, smoothstep(-0.06, 0.02, up)), 1.0); }`,
    }),
  );
  scene.add(walls);
  const lamp = (
    width: number,
    height: number,
    strength: number,
    position: readonly [number, number, number],
  ) => {
    const mesh = new THREE.Mesh(
      new THREE.PlaneGeometry(width, height),
      new THREE.MeshBasicMaterial({
        color: new THREE.Color(strength, strength, strength * 0.97),
        side: THREE.DoubleSide,
      }),
    );
    mesh.position.set(...position);
    mesh.lookAt(0, 0, 0);
    scene.add(mesh);
  };
  lamp(9, 22, 9, [0, 20, 0]);
  lamp(34, 3, 7, [20, 7, 0]);
  lamp(34, 3, 5, [-20, 8, 0]);
  lamp(7, 7, 4, [5, 8, 24]);
  lamp(7, 6, 3, [-4, 7, -24]);
  return scene;
}

/** A soft round shadow on the floor, as a texture: dark in the middle, nothing at the rim. */
export function shadowTexture(): THREE.Texture {
  const size = 256;
  const canvas = document.createElement("canvas");
  canvas.width = canvas.height = size;
  const pen = canvas.getContext("2d");
  if (pen) {
    const fade = pen.createRadialGradient(size / 2, size / 2, 0, size / 2, size / 2, size / 2);
    fade.addColorStop(0, "rgba(0,0,0,0.62)");
    fade.addColorStop(0.55, "rgba(0,0,0,0.42)");
    fade.addColorStop(0.85, "rgba(0,0,0,0.1)");
    fade.addColorStop(1, "rgba(0,0,0,0)");
    pen.fillStyle = fade;
    pen.fillRect(0, 0, size, size);
  }
  return new THREE.CanvasTexture(canvas);
}
