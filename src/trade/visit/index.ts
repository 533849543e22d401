/**
 * The sidecar visit.yaml: its zod schemas (one part a file), the published JSON Schema, and what a checked document
 * becomes. Reading YAML, and saying what is wrong with it, is the label stage's work.
 */
export { publishedSchema, type SidecarSchema, sidecarSchema, type Written } from './sidecar-schema.js';
export { toCanalEntry, toImageEntry, toVisitDocument, type WrittenParts } from './to-document.js';
export { toothUnder } from './tooth-schema.js';
export { wording } from './wording.js';
