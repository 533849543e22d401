/** Blurs of one plane of numbers; edges repeat the border value. */
const boxRows = (
  from: Float32Array,
  to: Float32Array,
  width: number,
  height: number,
  radius: number,
): void => {
  const span = 2 * radius + 1;
  for (let j = 0; j < height; j++) {
    const row = j * width;
    let sum = 0;
    for (let i = -radius; i <= radius; i++) sum += from[row + Math.max(0, Math.min(width - 1, i))]!;
    for (let i = 0; i < width; i++) {
      to[row + i] = sum / span;
      sum += from[row + Math.min(width - 1, i + radius + 1)]! - from[row + Math.max(0, i - radius)]!;
    }
  }
};

const boxColumns = (
  from: Float32Array,
  to: Float32Array,
  width: number,
  height: number,
  radius: number,
): void => {
  const span = 2 * radius + 1;
  const sums = new Float64Array(width);
  for (let j = -radius; j <= radius; j++) {
    const row = Math.max(0, Math.min(height - 1, j)) * width;
    for (let i = 0; i < width; i++) sums[i] = sums[i]! + from[row + i]!;
  }
  for (let j = 0; j < height; j++) {
    const row = j * width;
    const next = Math.min(height - 1, j + radius + 1) * width;
    const last = Math.max(0, j - radius) * width;
    for (let i = 0; i < width; i++) {
      to[row + i] = sums[i]! / span;
      sums[i] = sums[i]! + from[next + i]! - from[last + i]!;
    }
  }
};

/** Near-Gaussian blur (three box blurs) of the given standard deviation in px; a copy. */
export const blurred = (
  plane: Float32Array,
  width: number,
  height: number,
  sigmaPx: number,
): Float32Array => {
  const radius = Math.max(0, Math.round(Math.sqrt(sigmaPx * sigmaPx + 0.25) - 0.5));
  const result = Float32Array.from(plane);
  if (radius === 0) return result;
  const other = new Float32Array(plane.length);
  for (let pass = 0; pass < 3; pass++) {
    boxRows(result, other, width, height, radius);
    boxColumns(other, result, width, height, radius);
  }
  return result;
};

/** Blur by a flat disc, as an open lens aperture does; radius in px. */
export const discBlurred = (
  plane: Float32Array,
  width: number,
  height: number,
  radiusPx: number,
): Float32Array => {
  const result = new Float32Array(plane.length);
  const reach = Math.floor(radiusPx);
  const sums = new Float64Array(width + 1);
  const halves: number[] = [];
  for (let dy = -reach; dy <= reach; dy++) {
    halves.push(Math.floor(Math.sqrt(radiusPx * radiusPx - dy * dy)));
  }
  for (let j = 0; j < height; j++) {
    const row = j * width;
    for (let i = 0; i < width; i++) sums[i + 1] = sums[i]! + plane[row + i]!;
    const first = plane[row]!;
    const last = plane[row + width - 1]!;
    for (let dy = -reach; dy <= reach; dy++) {
      const half = halves[dy + reach]!;
      const above = j - dy;
      if (above < 0 || above >= height) continue;
      const target = above * width;
      for (let i = 0; i < width; i++) {
        const a = i - half;
        const b = i + half + 1;
        let sum = sums[Math.min(b, width)]! - sums[Math.max(a, 0)]!;
        if (a < 0) sum -= a * first;
        if (b > width) sum += (b - width) * last;
        result[target + i] = result[target + i]! + sum;
      }
    }
  }
  for (let j = 0; j < height; j++) {
    // near the upper and lower border some rows of the disc are missing
    let weight = 0;
    for (let dy = -reach; dy <= reach; dy++) {
      const source = j + dy;
      if (source >= 0 && source < height) weight += 2 * halves[dy + reach]! + 1;
    }
    for (let i = 0; i < width; i++) result[j * width + i] = result[j * width + i]! / weight;
  }
  return result;
};

/** A wide disc blur at an eighth of the work: halved, blurred, enlarged again; for radii where nobody sees it. */
export const coarselyBlurred = (
  plane: Float32Array,
  width: number,
  height: number,
  radiusPx: number,
): Float32Array => {
  const w = Math.ceil(width / 2);
  const h = Math.ceil(height / 2);
  const half = new Float32Array(w * h);
  for (let j = 0; j < h; j++)
    for (let i = 0; i < w; i++) {
      const right = Math.min(2 * i + 1, width - 1);
      const below = Math.min(2 * j + 1, height - 1) * width;
      const row = 2 * j * width;
      half[j * w + i] =
        (plane[row + 2 * i]! + plane[row + right]! + plane[below + 2 * i]! + plane[below + right]!) / 4;
    }
  const soft = discBlurred(half, w, h, radiusPx / 2);
  const result = new Float32Array(plane.length);
  for (let j = 0; j < height; j++) {
    const y = Math.max(0, Math.min(h - 1.001, (j - 0.5) / 2));
    const j0 = Math.floor(y);
    const v = y - j0;
    for (let i = 0; i < width; i++) {
      const x = Math.max(0, Math.min(w - 1.001, (i - 0.5) / 2));
      const i0 = Math.floor(x);
      const u = x - i0;
      const k = j0 * w + i0;
      const above = soft[k]! + (soft[k + 1]! - soft[k]!) * u;
      const below = soft[k + w]! + (soft[k + w + 1]! - soft[k + w]!) * u;
      result[j * width + i] = above + (below - above) * v;
    }
  }
  return result;
};
