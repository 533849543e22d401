import type { PictureFacts } from '../../../src/core/picture-facts.js';

/** Facts of a picture of no importance; render reads only `format` and `orientation`. */
export const factsOf = (change: Partial<PictureFacts> = {}): PictureFacts => ({
  format: 'PNG',
  widthPx: 1,
  heightPx: 1,
  orientation: 1,
  bitsPerChannel: 8,
  grey: true,
  takenAt: null,
  device: null,
  source: null,
  carriers: {},
  identifying: [],
  notes: [],
  ...change,
});
