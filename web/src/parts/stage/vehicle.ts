import * as THREE from "three";
import { GLTFLoader } from "three/examples/jsm/loaders/GLTFLoader.js";
import { mergeVertices } from "three/examples/jsm/utils/BufferGeometryUtils.js";
import { finishMaterial, sceneryMaterial } from "./finishes";

/** A vehicle ready for the stage: a mesh for each panel, the scenery, and its bounds. */
export interface StagedVehicle {
  panels: Map<string, THREE.Mesh<THREE.BufferGeometry, THREE.MeshPhysicalMaterial>>;
  scenery: THREE.Object3D;
  bounds: THREE.Box3;
}

const sceneryPrefix = "scenery:";

/** Reads model.glb. `finishOf` answers undefined for what is not a panel. */
export async function readVehicle(
  bytes: ArrayBuffer,
  finishOf: (panel: string) => string | undefined,
): Promise<StagedVehicle> {
  const model = await new GLTFLoader().parseAsync(bytes, "");
  const panels: StagedVehicle["panels"] = new Map();
  const scenery = new THREE.Group();
  model.scene.updateMatrixWorld(true);
  const meshes: THREE.Mesh[] = [];
  model.scene.traverse((node) => {
    if (node instanceof THREE.Mesh) meshes.push(node as THREE.Mesh);
  });
  for (const mesh of meshes) {
    const name = nodeName(mesh);
    const geometry = mesh.geometry.clone().applyMatrix4(mesh.matrixWorld);
    if (!geometry.getAttribute("normal")) geometry.computeVertexNormals();
    const finish = finishOf(name);
    if (finish === undefined) {
      const prop = new THREE.Mesh(geometry, sceneryMaterial(name));
      prop.raycast = () => undefined;
      scenery.add(prop);
    } else {
      const panel = new THREE.Mesh(geometry, finishMaterial(finish, name));
      panel.name = name;
      panels.set(name, panel);
    }
  }
  const bounds = new THREE.Box3();
  for (const panel of panels.values()) bounds.expandByObject(panel);
  bounds.expandByObject(scenery);
  return { panels, scenery, bounds };
}

/** The name as written in the file: the loader strips ":" from names but keeps the original. */
function nodeName(mesh: THREE.Object3D): string {
  for (let node: THREE.Object3D | null = mesh; node; node = node.parent) {
    const written: unknown = node.userData["name"];
    if (typeof written === "string") return written;
  }
  return mesh.name || (mesh.parent?.name ?? "");
}

export const isScenery = (name: string) => name.startsWith(sceneryPrefix);

/** The boundary of a surface as line segments: the edges that belong to one triangle only. */
export function boundaryLines(surface: THREE.BufferGeometry): THREE.BufferGeometry {
  const bare = new THREE.BufferGeometry();
  bare.setAttribute("position", surface.getAttribute("position"));
  bare.setIndex(surface.getIndex());
  const geometry = mergeVertices(bare, 1e-5);
  const index = geometry.getIndex();
  const position = geometry.getAttribute("position");
  const uses = new Map<string, [number, number, number]>();
  if (index)
    for (let corner = 0; corner < index.count; corner++) {
      const next = corner % 3 === 2 ? corner - 2 : corner + 1;
      const [a, b] = [index.getX(corner), index.getX(next)];
      const key = a < b ? `${a} ${b}` : `${b} ${a}`;
      const use = uses.get(key);
      if (use) use[2]++;
      else uses.set(key, [a, b, 1]);
    }
  const points: number[] = [];
  for (const [a, b, count] of uses.values())
    if (count === 1)
      for (const vertex of [a, b])
        points.push(position.getX(vertex), position.getY(vertex), position.getZ(vertex));
  return new THREE.BufferGeometry().setAttribute(
    "position",
    new THREE.Float32BufferAttribute(points, 3),
  );
}
