/** One plane of numbers in picture order (left to right, top to bottom) and what the drawings do to it. */

export interface Raster {
  widthPx: number;
  heightPx: number;
  data: Float32Array;
}

export function blankRaster(widthPx: number, heightPx: number, value = 0): Raster {
  return { widthPx, heightPx, data: new Float32Array(widthPx * heightPx).fill(value) };
}

function gaussianWeights(sigmaPx: number): Float32Array {
  const reach = Math.max(1, Math.ceil(sigmaPx * 3));
  const weights = new Float32Array(2 * reach + 1);
  let sum = 0;
  for (let i = -reach; i <= reach; i++) {
    const weight = Math.exp(-(i * i) / (2 * sigmaPx * sigmaPx));
    weights[i + reach] = weight;
    sum += weight;
  }
  return weights.map((weight) => weight / sum);
}

function blurAlong(source: Raster, weights: Float32Array, along: 'row' | 'column'): Raster {
  const { widthPx, heightPx } = source;
  const out = blankRaster(widthPx, heightPx);
  const reach = (weights.length - 1) / 2;
  const step = along === 'row' ? 1 : widthPx;
  const length = along === 'row' ? widthPx : heightPx;
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const at = y * widthPx + x;
      const place = along === 'row' ? x : y;
      let sum = 0;
      for (let i = -reach; i <= reach; i++) {
        const clamped = Math.min(length - 1, Math.max(0, place + i));
        sum += weights[i + reach]! * source.data[at + (clamped - place) * step]!;
      }
      out.data[at] = sum;
    }
  }
  return out;
}

/** Gaussian blur; the edge value is repeated outside. */
export function blurred(source: Raster, sigmaPx: number): Raster {
  const weights = gaussianWeights(sigmaPx);
  return blurAlong(blurAlong(source, weights, 'row'), weights, 'column');
}

/** A wide blur at little cost: shrunk, blurred, enlarged. */
export function widelyBlurred(source: Raster, sigmaPx: number): Raster {
  const factor = Math.max(1, Math.floor(sigmaPx / 3));
  const width = Math.max(2, Math.ceil(source.widthPx / factor));
  const height = Math.max(2, Math.ceil(source.heightPx / factor));
  const small = blurred(resampled(blurred(source, factor / 2.5), width, height), sigmaPx / factor);
  return resampled(small, source.widthPx, source.heightPx);
}

function cubicWeights(t: number): [number, number, number, number] {
  const t2 = t * t;
  const t3 = t2 * t;
  return [
    -0.5 * t3 + t2 - 0.5 * t,
    1.5 * t3 - 2.5 * t2 + 1,
    -1.5 * t3 + 2 * t2 + 0.5 * t,
    0.5 * t3 - 0.5 * t2,
  ];
}

/** Another size, by cubic interpolation between pixel centres. */
export function resampled(source: Raster, widthPx: number, heightPx: number): Raster {
  return resampleColumns(resampleRows(source, widthPx), heightPx);
}

function resampleRows(source: Raster, widthPx: number): Raster {
  const out = blankRaster(widthPx, source.heightPx);
  for (let x = 0; x < widthPx; x++) {
    const at = ((x + 0.5) * source.widthPx) / widthPx - 0.5;
    const base = Math.floor(at);
    const weights = cubicWeights(at - base);
    const columns = weights.map((_, i) => Math.min(source.widthPx - 1, Math.max(0, base - 1 + i)));
    for (let y = 0; y < source.heightPx; y++) {
      const row = y * source.widthPx;
      let sum = 0;
      for (let i = 0; i < 4; i++) sum += weights[i]! * source.data[row + columns[i]!]!;
      out.data[y * widthPx + x] = sum;
    }
  }
  return out;
}

function resampleColumns(source: Raster, heightPx: number): Raster {
  const { widthPx } = source;
  const out = blankRaster(widthPx, heightPx);
  for (let y = 0; y < heightPx; y++) {
    const at = ((y + 0.5) * source.heightPx) / heightPx - 0.5;
    const base = Math.floor(at);
    const weights = cubicWeights(at - base);
    const rows = weights.map((_, i) => Math.min(source.heightPx - 1, Math.max(0, base - 1 + i)) * widthPx);
    for (let x = 0; x < widthPx; x++) {
      let sum = 0;
      for (let i = 0; i < 4; i++) sum += weights[i]! * source.data[rows[i]! + x]!;
      out.data[y * widthPx + x] = sum;
    }
  }
  return out;
}

/** Mean and standard deviation over a disc. */
export function discStatistics(source: Raster, xPx: number, yPx: number, radiusPx: number) {
  let count = 0;
  let sum = 0;
  let squares = 0;
  for (let y = Math.ceil(yPx - radiusPx); y <= yPx + radiusPx; y++) {
    for (let x = Math.ceil(xPx - radiusPx); x <= xPx + radiusPx; x++) {
      if ((x - xPx) ** 2 + (y - yPx) ** 2 > radiusPx ** 2) continue;
      if (x < 0 || y < 0 || x >= source.widthPx || y >= source.heightPx) continue;
      const value = source.data[y * source.widthPx + x]!;
      count += 1;
      sum += value;
      squares += value * value;
    }
  }
  const mean = sum / count;
  return { count, mean, sd: Math.sqrt(Math.max(0, squares / count - mean * mean)) };
}
