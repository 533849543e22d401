import { COLOUR } from './colours.js';
import type { Crown } from './crown.js';
import { bell, ramp } from './curves.js';
import { type Colour, type Ground, regionNumber, shade, tint } from './ground.js';
import { layered, makeNoise } from './noise.js';

/** Rubber dam round the neck: hugs the tooth, rises outwards, folds run away from the hole. */
export const layDam = (g: Ground, crown: Crown, colour: Colour, seed: number): void => {
  const fold = makeNoise(seed);
  const sag = layered(makeNoise(seed + 1), 2);
  const grain = makeNoise(seed + 2);
  for (let k = 0; k < g.z.length; k++) {
    const x = g.x[k]!;
    const y = g.y[k]!;
    const out = -crown.insideMm(x, y);
    // under the crown nobody sees it
    if (out < -0.8) continue;
    const angle = Math.atan2(y, x);
    const far = ramp(0.2, 7, out);
    // folds: noise along the angle only, fading in away from the tooth; wrapped by drawing it on a circle
    const folds = fold(2.4 * Math.cos(angle) + out * 0.04, 2.4 * Math.sin(angle));
    const second = fold(6.5 * Math.cos(angle) + 40, 6.5 * Math.sin(angle) + out * 0.12);
    const lip = 0.3 * bell(out - 0.1, 0.35);
    g.z[k] =
      -6.1 +
      1.3 * far +
      lip +
      (1.5 * folds * far + 0.5 * second * ramp(0.1, 2.5, out) + 0.22 * second * folds * far * out) +
      0.25 * sag(x * 0.3, y * 0.3) * far;
    g.region[k] = regionNumber('dam');
    g.wet[k] = 0.22;
    tint(g, k, colour, 1);
    shade(
      g,
      k,
      0.92 + 0.07 * grain(x * 14, y * 14) + 0.05 * grain(x * 5, y * 5) + 0.12 * sag(x * 0.8, y * 0.8),
    );
  }
};

/** A waxed ligature tied round the neck below the girth: a pale twisted line, mostly out of focus. */
export const layLigature = (g: Ground, crown: Crown, seed: number): void => {
  const loose = makeNoise(seed);
  for (let k = 0; k < g.z.length; k++) {
    const x = g.x[k]!;
    const y = g.y[k]!;
    const out = -crown.insideMm(x, y);
    if (out < -0.3 || out > 1.1) continue;
    const line = 0.3 + 0.08 * loose(x * 0.7, y * 0.7);
    const off = (out - line) / 0.2;
    if (off < -1 || off > 1) continue;
    const along = Math.atan2(y, x) * 5.2;
    const twist = Math.sin(along * 9 + off * 2.2);
    const z = -5.55 + 0.2 * Math.sqrt(1 - off * off) + 0.03 * twist;
    if (z <= g.z[k]!) continue;
    g.z[k] = z;
    g.region[k] = regionNumber('ligature');
    g.wet[k] = 0.3;
    tint(g, k, COLOUR.ligature, 1);
    shade(g, k, 0.9 + 0.12 * twist);
  }
};
