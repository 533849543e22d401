import type { SheetLook } from '../review/looks.js';
import type { Basis } from './basis.js';

/** What a person asks for. */
export interface ShareWish {
  template: string;
  to: string;
  /** Initials of who has just looked at the sheet, read by `readInitials`; null: somebody did earlier. */
  reviewedBy: string | null;
  /** With the display pictures that the sheet shows. */
  pictures: boolean;
  /** Null: whichever covers the audience. */
  basis: Basis | null;
  /** Told before a review is written down. */
  onLooks(sheet: string, looks: readonly SheetLook[]): void;
}

const LONGEST = 200;

/** To whom, tidied; null when it names nobody. Kept in the register only. */
export function readRecipient(text: string): string | null {
  const to = text.normalize('NFC').replace(/\s+/gu, ' ').trim();
  return to === '' || to.length > LONGEST || /\p{Cc}/u.test(to) ? null : to;
}
