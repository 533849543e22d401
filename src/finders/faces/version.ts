/**
 * Changes whenever the same picture could give other faces: model, settings or rules. Caches are keyed by it, so it
 * stands in a file of its own that loads nothing.
 */
export const FACE_FINDER_VERSION = 'faces-3';
