/**
 * The scene as arrays: one cell for each spot seen by the camera, with the place in the tooth frame, the height of the
 * surface and what it is made of. Layers write into it one after another; light and camera read it.
 */
export const REGIONS = [
  'dam',
  'enamel',
  'wall',
  'floor',
  'groove',
  'orifice',
  'gutta-percha',
  'sealer',
  'clamp',
  'amalgam',
  'composite',
  'paste',
  'temporary',
  'caries',
  'seal',
  'ligature',
] as const;
export type Region = (typeof REGIONS)[number];
export const regionNumber = (region: Region): number => REGIONS.indexOf(region);

/** Where mesial points in the picture (degrees, counter-clockwise from right, y up) and the sign of the parity rule. */
export interface Pose {
  mesialDegrees: number;
  /** +1 or -1: mesial x buccal, picture with y up. */
  parity: 1 | -1;
}

export interface Ground {
  width: number;
  height: number;
  pxPerMm: number;
  /** Tooth frame, mm. */
  x: Float32Array;
  y: Float32Array;
  /** Height, mm, 0 at the highest cusp, up to the eye. */
  z: Float32Array;
  /** Own colour, linear light. */
  red: Float32Array;
  green: Float32Array;
  blue: Float32Array;
  /** 0 dry and matt, 1 wet and shining. */
  wet: Float32Array;
  /** 0 none, 1 polished metal. */
  metal: Float32Array;
  /** How much light spreads inside, 0..1. */
  glow: Float32Array;
  region: Uint8Array;
}

/** Unit vectors of mesial and buccal in the picture, y up. */
export const axesOf = (pose: Pose): { mesial: [number, number]; buccal: [number, number] } => {
  const a = (pose.mesialDegrees * Math.PI) / 180;
  const mesial: [number, number] = [Math.cos(a), Math.sin(a)];
  return { mesial, buccal: [-mesial[1] * pose.parity, mesial[0] * pose.parity] };
};

export const makeGround = (
  width: number,
  height: number,
  pxPerMm: number,
  pose: Pose,
  centre: readonly [number, number],
): Ground => {
  const size = width * height;
  const floats = (): Float32Array => new Float32Array(size);
  const ground: Ground = {
    width,
    height,
    pxPerMm,
    x: floats(),
    y: floats(),
    z: floats().fill(-99),
    red: floats(),
    green: floats(),
    blue: floats(),
    wet: floats(),
    metal: floats(),
    glow: floats(),
    region: new Uint8Array(size),
  };
  const { mesial, buccal } = axesOf(pose);
  for (let j = 0, k = 0; j < height; j++)
    for (let i = 0; i < width; i++, k++) {
      const right = (i - (width - 1) / 2) / pxPerMm;
      const up = ((height - 1) / 2 - j) / pxPerMm;
      ground.x[k] = centre[0] + right * mesial[0] + up * mesial[1];
      ground.y[k] = centre[1] + right * buccal[0] + up * buccal[1];
    }
  return ground;
};

export type Colour = readonly [red: number, green: number, blue: number];

/** sRGB 0..255 to linear 0..1 (IEC 61966-2-1). */
export const linearOf = (srgb: readonly [number, number, number]): Colour => {
  const one = (v: number): number => (v <= 10.31475 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4);
  return [one(srgb[0]), one(srgb[1]), one(srgb[2])];
};

/** Blends a colour into a cell. */
export const tint = (g: Ground, k: number, colour: Colour, share: number): void => {
  g.red[k] = g.red[k]! + (colour[0] - g.red[k]!) * share;
  g.green[k] = g.green[k]! + (colour[1] - g.green[k]!) * share;
  g.blue[k] = g.blue[k]! + (colour[2] - g.blue[k]!) * share;
};

/** Multiplies a cell's colour. */
export const shade = (g: Ground, k: number, factor: number): void => {
  g.red[k] = g.red[k]! * factor;
  g.green[k] = g.green[k]! * factor;
  g.blue[k] = g.blue[k]! * factor;
};
