import { FACE_FINDER_VERSION } from '../../finders/faces/version.js';
import { TEXT_FINDER_VERSION } from '../../finders/text/version.js';

/** Which finders search pictures now: another version searches again. */
export const FINDERS = `${TEXT_FINDER_VERSION} ${FACE_FINDER_VERSION}`;
