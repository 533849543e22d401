/** What the beam meets: opacities, placed teeth with what replaces their substance, and the bone around. */
import type { Raster } from '../raster.js';
import type { Field, ToothShape } from './tooth-shape.js';

/** mm aluminium per mm. Dentine 0.79-1.0 and gutta-percha 7.3: measured means; the others common practice. */
export const OPACITY = {
  enamel: 2.05,
  dentine: 0.92,
  cortical: 0.9,
  trabecular: 0.33,
  laminaDura: 0.52,
  pulp: 0.1,
  caries: 0.3,
  guttaPercha: 7.3,
  composite: 1.75,
  temporary: 2.1,
  amalgam: 20,
  steel: 26,
  /** Ligament, granulation tissue: what fills the place of lost bone. */
  softTissue: 0.07,
  air: 0,
} as const;

/** Something that replaces tooth substance: decay, a cavity, a filling. Later parts win over earlier ones. */
export interface Part {
  field: Field;
  opacity: number;
}

export interface PlacedTooth {
  shape: ToothShape;
  x: number;
  z: number;
  /** Lean in the picture plane, radians; positive moves the crown mesially. */
  leanRad: number;
  parts: readonly Part[];
  /** Ligament and bone-lining widths, mm. */
  ligamentMm: number;
}

/** The bone around: where it stops, how thick it is, what is missing from it. */
export interface Bone {
  crestZ: (x: number) => number;
  halfBlMm: (depthMm: number) => number;
  corticalMm: number;
  /** 1 = nothing lost, 0 = all gone. */
  kept: (x: number, y: number, z: number) => number;
  /** No lamina dura where a lesion has eaten it. */
  laminaKept: (x: number, y: number, z: number) => number;
}

export interface Cast {
  /** Teeth and their fillings, mm Al. */
  teeth: Raster;
  /** Path through spongy bone, mm. */
  spongy: Raster;
  /** Cortical plates and lamina dura, mm Al. */
  dense: Raster;
}

export interface Ray {
  /** Position on the receptor plane through the tooth axis, mm. */
  x: number;
  z: number;
}
