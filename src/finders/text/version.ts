/**
 * Changes whenever the same picture could give other boxes: models, settings or rules. Caches are keyed by it, so it
 * stands in a file of its own that loads nothing.
 */
export const TEXT_FINDER_VERSION = 'text-3';
