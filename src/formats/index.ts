/**
 * Picture formats. Bytes come in; leave: what a file says about itself, the file without it, and what was found
 * left in a file. Refused: everything that is not on a format's allow-list. No pixel is decoded here.
 */
export type { Format, MetadataBlock } from './format.js';
export { FORMATS, formatFor } from './registry.js';
export { orientationOf } from './tiff/orientation.js';
