/** Small arithmetic shared by all layers: ramps, soft minimum and maximum, mixing. */
export const clamp01 = (t: number): number => (t < 0 ? 0 : Math.min(t, 1));

/** 0 below `from`, 1 above `to`, smooth between; `from` may lie above `to`. */
export const ramp = (from: number, to: number, value: number): number => {
  const t = clamp01((value - from) / (to - from));
  return t * t * (3 - 2 * t);
};

export const mix = (a: number, b: number, t: number): number => a + (b - a) * t;

/** Minimum with a rounded corner of width `k` (polynomial form). */
export const softMin = (a: number, b: number, k: number): number => {
  const t = clamp01(0.5 + (0.5 * (b - a)) / k);
  return mix(b, a, t) - k * t * (1 - t);
};

export const softMax = (a: number, b: number, k: number): number => -softMin(-a, -b, k);

/** A bell of height 1: 1 at 0, 0.37 at `width`. */
export const bell = (value: number, width: number): number => {
  const q = value / width;
  return q > 4 || q < -4 ? 0 : Math.exp(-q * q);
};

/** Length of a plane vector; many times faster than Math.hypot, which guards against overflow we cannot have. */
export const lengthOf = (x: number, y: number): number => Math.sqrt(x * x + y * y);
