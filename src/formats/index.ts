/**
 * Picture formats. Bytes come in; leave: what a file says about itself, the file without it, and what was found
 * left in a file. Refused: everything that is not on a format's allow-list. No pixel is decoded here.
 */
export { canonicalProfile, isCanonicalProfile } from './colour-profile/index.js';
export {
  type Format,
  type HeldFormat,
  LIMIT_PX,
  type MetadataBlock,
  type StrippedPart,
  type StrippedParts,
  type Survey,
} from './format.js';
export { FORMATS, formatFor, HELD_FORMATS } from './registry.js';
export { orientationOf } from './tiff/orientation.js';
