/** Points on the vehicle: x forward, y left, z up, mm. */
export type VehiclePoint = readonly [x: number, y: number, z: number];

/** The stage is glTF's frame: metres, y up, the vehicle's front towards +z, so its left is +x. */
export const toStage = ([x, y, z]: VehiclePoint): [number, number, number] => [
  y / 1000,
  z / 1000,
  x / 1000,
];
