/** Two to six letters, with or without dots, hyphens and spaces: "AB", "A. B.", "M-L K". */
const INITIALS = /^\p{L}\.?(?:[ -]?\p{L}\.?){1,5}$/u;

/** Initials as they are written down; null when this is no set of initials. They never prove who somebody is. */
export function readInitials(text: string): string | null {
  const initials = text.normalize('NFC').trim();
  return INITIALS.test(initials) ? initials : null;
}

export const INITIALS_SENTENCE =
  'Initials have two to six letters, for example: --by AB. They say who answers for having looked.';

/** What is said with every review. */
export const INITIALS_CAUTION = 'Initials do not prove who looked; they say who answers for it.';
