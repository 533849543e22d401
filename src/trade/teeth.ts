/**
 * Teeth: in come numbers in any of three systems, out go one number (ISO 3950) and the words for it. An impossible
 * number, or one whose system is not said, is refused with the reason.
 */
export * from './parse-tooth.js';
export * from './tooth-names.js';
