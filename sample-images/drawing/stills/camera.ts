import { blurred, coarselyBlurred, discBlurred } from './blur.js';
import { clamp01, lengthOf, mix, ramp } from './curves.js';
import type { Ground } from './ground.js';
import type { Lit } from './light.js';
import { makeNoise, makeStream } from './noise.js';

export interface CameraOptions {
  widthPx: number;
  heightPx: number;
  /** Where the middle of the picture looks within the ground, mm right and up of its centre. */
  tilt: readonly [right: number, up: number];
  /** Height that is sharp, mm. */
  focusZ: number;
  /** Radius of the blur, mm in the plane for each mm out of focus. */
  blurPerMm: number;
  /** Brightness of the middle; 1 shows colours as they are. */
  exposure: number;
  /** Extra blur of a hand that moved, mm; 0 none. */
  shakeMm: number;
  seed: number;
}

export interface Picture {
  widthPx: number;
  heightPx: number;
  /** 8-bit sRGB, interleaved. */
  rgb: Uint8Array;
  /** Region number of each pixel, unblurred. */
  regions: Uint8Array;
}

/** Working distance of the objective, mm. */
const DISTANCE_MM = 220;
const STEP_MM = 0.16;

interface Seen {
  planes: [Float32Array, Float32Array, Float32Array];
  z: Float32Array;
  regions: Uint8Array;
}

/** Column and row of the ground where the line of sight of a pixel is at height `z`. */
const columnAt = (g: Ground, o: CameraOptions, right: number, z: number): number =>
  (g.width - 1) / 2 + (right - o.tilt[0] * (z - o.focusZ) * g.pxPerMm) * (1 - (z - o.focusZ) / DISTANCE_MM);
const rowAt = (g: Ground, o: CameraOptions, down: number, z: number): number =>
  (g.height - 1) / 2 + (down + o.tilt[1] * (z - o.focusZ) * g.pxPerMm) * (1 - (z - o.focusZ) / DISTANCE_MM);

const surfaceAt = (g: Ground, o: CameraOptions, right: number, down: number, z: number): number => {
  const c = Math.max(0, Math.min(g.width - 1, Math.round(columnAt(g, o, right, z))));
  const r = Math.max(0, Math.min(g.height - 1, Math.round(rowAt(g, o, down, z))));
  return g.z[r * g.width + c]!;
};

/** Follows each line of sight down to the surface: near parts hide what lies behind them. */
const look = (g: Ground, lit: Lit, o: CameraOptions): Seen => {
  const size = o.widthPx * o.heightPx;
  const seen: Seen = {
    planes: [new Float32Array(size), new Float32Array(size), new Float32Array(size)],
    z: new Float32Array(size),
    regions: new Uint8Array(size),
  };
  let top = -99;
  for (const z of g.z) if (z > top) top = z;
  const source = [lit.red, lit.green, lit.blue] as const;
  for (let j = 0, k = 0; j < o.heightPx; j++)
    for (let i = 0; i < o.widthPx; i++, k++) {
      const right = i - (o.widthPx - 1) / 2;
      const down = j - (o.heightPx - 1) / 2;
      let high = top + 0.01;
      let low = high;
      while (low > -14 && surfaceAt(g, o, right, down, low) < low) {
        high = low;
        low -= STEP_MM;
      }
      for (let n = 0; n < 5; n++) {
        const half = (high + low) / 2;
        if (surfaceAt(g, o, right, down, half) < half) high = half;
        else low = half;
      }
      const c = Math.max(0, Math.min(g.width - 1.001, columnAt(g, o, right, low)));
      const r = Math.max(0, Math.min(g.height - 1.001, rowAt(g, o, down, low)));
      const c0 = Math.floor(c);
      const r0 = Math.floor(r);
      const u = c - c0;
      const v = r - r0;
      const n = r0 * g.width + c0;
      for (let p = 0; p < 3; p++) {
        const s = source[p]!;
        seen.planes[p]![k] = mix(mix(s[n]!, s[n + 1]!, u), mix(s[n + g.width]!, s[n + g.width + 1]!, u), v);
      }
      seen.z[k] = low;
      seen.regions[k] = g.region[Math.round(r) * g.width + Math.round(c)]!;
    }
  return seen;
};

/** Blurs by depth: blends the picture with copies blurred by discs of rising radius. */
const focus = (seen: Seen, o: CameraOptions, pxPerMm: number): void => {
  const { widthPx: w, heightPx: h } = o;
  const radius = new Float32Array(seen.z.length);
  const near = new Float32Array(seen.z.length);
  for (let k = 0; k < radius.length; k++) {
    const off = seen.z[k]! - o.focusZ;
    radius[k] = (Math.max(0, Math.abs(off) - 0.35) * o.blurPerMm + o.shakeMm) * pxPerMm;
    near[k] = off > 0 ? radius[k]! : 0;
  }
  // what is near and blurred spreads over the sharp parts beside it
  const spill = blurred(near, w, h, 0.14 * pxPerMm);
  for (let k = 0; k < radius.length; k++) radius[k] = Math.max(radius[k]!, 0.85 * spill[k]!);
  const soft = blurred(radius, w, h, 0.03 * pxPerMm);
  const steps = [0, 1.5, 3, 5.5, 9, 14, 21].filter((s) => s < 22);
  let top = 0;
  for (const r of soft) if (r > top) top = r;
  for (let p = 0; p < 3; p++) {
    const source = seen.planes[p]!;
    const result = Float32Array.from(source);
    let lower = source;
    for (let n = 1; n < steps.length && steps[n - 1]! < top; n++) {
      const a = steps[n - 1]!;
      const b = steps[n]!;
      const upper = b < 5 ? discBlurred(source, w, h, b) : coarselyBlurred(source, w, h, b);
      for (let k = 0; k < result.length; k++) {
        const r = soft[k]!;
        if (r > a) result[k] = mix(lower[k]!, upper[k]!, clamp01((r - a) / (b - a)));
      }
      lower = upper;
    }
    seen.planes[p] = result;
  }
};

const toSrgb = (v: number): number => (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055);
/** Straight up to 0.75, then bends softly into white. */
const shoulder = (v: number): number => (v < 0.75 ? v : 0.75 + 0.25 * (1 - Math.exp(-(v - 0.75) / 0.25)));

/** Lamp spot, glare, sensor noise and the camera's own rendering to 8-bit sRGB. */
const develop = (seen: Seen, o: CameraOptions, pxPerMm: number): Uint8Array => {
  const { widthPx: w, heightPx: h } = o;
  const rgb = new Uint8Array(w * h * 3);
  const stream = makeStream(o.seed);
  const uneven = makeNoise(o.seed + 5);
  const glare = seen.planes.map((plane) => {
    const bright = plane.map((v) => Math.max(0, v - 0.75));
    return blurred(bright, w, h, 0.012 * w);
  });
  const grains = [0, 1, 2].map(() => {
    const raw = new Float32Array(w * h);
    for (let k = 0; k < raw.length; k++) raw[k] = stream() + stream() + stream() - 1.5;
    return raw;
  });
  const coarse = grains.map((grain) => blurred(grain, w, h, 1));
  for (let j = 0, k = 0; j < h; j++)
    for (let i = 0; i < w; i++, k++) {
      const dx = (i - w * 0.5 - 0.012 * w) / w;
      const dy = (j - h * 0.5 + 0.01 * w) / w;
      const r = lengthOf(dx, dy) * 2;
      const spot =
        (1.1 - 0.34 * r * r) * (0.03 + 0.97 * ramp(1.19, 0.82, r + 0.012 * uneven((dx + 1) * 5, dy * 5)));
      const at = k * 3;
      for (let p = 0; p < 3; p++) {
        let v = seen.planes[p]![k]! + 0.35 * glare[p]![k]!;
        v = v * spot * o.exposure + 0.0035;
        const noise = (0.55 * grains[p]![k]! + 1.6 * coarse[p]![k]! + 1.0 * coarse[1]![k]!) * 0.011;
        v = shoulder(v + noise * Math.sqrt(v + 0.004));
        rgb[at + p] = Math.round(255 * clamp01(toSrgb(Math.max(0, v))));
      }
    }
  void pxPerMm;
  return rgb;
};

/** Takes the picture. */
export const photograph = (g: Ground, lit: Lit, o: CameraOptions): Picture => {
  const seen = look(g, lit, o);
  focus(seen, o, g.pxPerMm);
  return {
    widthPx: o.widthPx,
    heightPx: o.heightPx,
    rgb: develop(seen, o, g.pxPerMm),
    regions: seen.regions,
  };
};
