export { fileKey } from '../../core/file-key.js';

/** The name without its folders. */
export const baseOf = (key: string): string => key.slice(key.lastIndexOf('/') + 1);
