/**
 * Label: in come the bytes of a sidecar and the names of the pictures in its folder; out go one checked document a
 * tooth and which picture each entry is about. Refused with a sentence: YAML that hides or doubles anything, unknown
 * keys, a patient or tooth that is not clear. A mistake in one entry holds that entry, and free text that seems to
 * identify the patient is held, never passed on. Nothing here guesses a label.
 */
import { publishedSchema } from '../../trade/visit/index.js';

export { matchPictures, type PictureMatch } from './match-pictures.js';
export { readSidecar } from './read-sidecar.js';
export { formatError, type SidecarDocument, type SidecarError, type SidecarResult } from './sidecar-error.js';

/** JSON Schema (draft 2020-12) of one document of visit.yaml. */
export const sidecarJsonSchema = (): object => publishedSchema();
