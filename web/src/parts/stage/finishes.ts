import * as THREE from "three";

const paint = "#1f4a4c";
// Glass over a dark inside: lighter than under any shade of film.
const bareGlass = "#5f7172";

function physical(options: THREE.MeshPhysicalMaterialParameters): THREE.MeshPhysicalMaterial {
  return new THREE.MeshPhysicalMaterial({ side: THREE.DoubleSide, ...options });
}

/** How each finish looks under the studio's light. */
export function finishMaterial(finish: string, id: string): THREE.MeshPhysicalMaterial {
  switch (finish) {
    case "matte_paint":
      return physical({ color: paint, metalness: 0.35, roughness: 0.72 });
    case "gloss_black":
      return physical({
        color: "#08090a",
        roughness: 0.12,
        clearcoat: 1,
        clearcoatRoughness: 0.03,
      });
    case "bare_plastic":
      return physical({ color: "#1d1f20", roughness: 0.85 });
    case "chrome":
      return physical({ color: "#d9dcdd", metalness: 1, roughness: 0.1 });
    case "lamp":
      return /rear|tail|brake|high/.test(id)
        ? physical({ color: "#8c1512", roughness: 0.1, clearcoat: 1 })
        : physical({
            color: "#e6ecee",
            metalness: 0.92,
            roughness: 0.16,
            clearcoat: 1,
            clearcoatRoughness: 0.02,
          });
    case "reflector":
      return physical({ color: "#b3240f", metalness: 0.3, roughness: 0.3, clearcoat: 1 });
    case "glass":
      return physical({ color: bareGlass, roughness: 0.03, metalness: 0.1, clearcoat: 1 });
    case "rubber":
      return physical({ color: "#121313", roughness: 0.95 });
    default:
      return physical({
        color: paint,
        metalness: 0.55,
        roughness: 0.36,
        clearcoat: 1,
        clearcoatRoughness: 0.04,
      });
  }
}

/** Film as it is seen on a surface. */
export interface FilmLook {
  use: "paint" | "trim" | "lamp" | "glass";
  gloss: "gloss" | "satin" | "matte";
  colour: string;
}

const sheen = {
  gloss: { roughness: 0.16, clearcoat: 1, clearcoatRoughness: 0.03 },
  satin: { roughness: 0.45, clearcoat: 0.4, clearcoatRoughness: 0.35 },
  matte: { roughness: 0.78, clearcoat: 0.08, clearcoatRoughness: 0.7 },
};

/** A finish under film: clear film keeps the colour below and gives its own sheen, a colour film
 * hides it, film on glass and lamps takes light away. `lift` marks what is covered, faintly. */
export function filmedMaterial(finish: string, id: string, film: FilmLook) {
  const material = finishMaterial(finish, id);
  const tint = new THREE.Color(film.colour);
  const bright = tint.getHSL({ h: 0, s: 0, l: 0 }).l;
  if (film.use === "trim" || (film.use === "paint" && bright < 0.75)) material.color.copy(tint);
  else if (film.use === "glass" || film.use === "lamp") material.color.multiply(tint);
  material.setValues(sheen[film.gloss]);
  if (film.use === "glass") material.setValues({ roughness: 0.03, clearcoat: 1 });
  return material;
}

/** Wheels and what else is only there to be looked at. */
export function sceneryMaterial(name: string): THREE.MeshPhysicalMaterial {
  if (/rim|wheel_disc|spoke/.test(name))
    return physical({ color: "#9a9fa1", metalness: 0.9, roughness: 0.28 });
  if (/tyre|tire/.test(name)) return physical({ color: "#161717", roughness: 0.92 });
  return physical({ color: "#0b0c0c", roughness: 0.95 });
}
