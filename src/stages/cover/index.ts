/**
 * Cover: in come the places where finders saw text or a face, and what the sidecar says of them; out go the boxes to
 * be painted, what a person should look at, and the reason when a person must decide first. Refused, as held: a face
 * nobody has answered for, and a cover over what the picture is about.
 *
 * Every text found is covered, unless it is on the narrow allow-list and read with confidence, or a named person keeps
 * it. Covering the eyes of a face is not offered: it does not suffice (ICMJE Recommendations, Protection of Research
 * Participants).
 */
export { isAllowedText } from './allowed-text.js';
export type { Cover, CoverInput, Covering, Look } from './covering.js';
export { decideCovers } from './decide-covers.js';
export { decideFace } from './decide-face.js';
export { lookSentence } from './look-sentence.js';
export { paintBoxes } from './paint-boxes.js';
