import { z } from 'zod';

/** What a reader of the sidecar must know about a value beyond its type. Kept beside the schema, not in it. */
export interface Wording {
  /** What the value is called in a message: "a stage". */
  noun?: string;
  /** Free text or a file name: never quoted in a message. */
  unquoted?: true;
  /** Printed or kept outside the private folder: searched for what identifies. */
  searched?: true;
  /** Kept as it stands, for a reader of its own (the tooth). */
  raw?: true;
  /** One text holding several, parted by commas, is as good as a list. */
  commas?: true;
  /** Said after a number that cannot be read: "in millimetres". */
  hint?: string;
}

export const wording = z.registry<Wording>();

/** Free text of the practice, printed on sheets: searched for what identifies, never quoted. */
export const freeText = (longest: number, description: string) =>
  z.string().min(1).max(longest).describe(description).register(wording, { unquoted: true, searched: true });

/** Text that stays private: initials, file names, reasons. */
export const privateText = (longest: number, description: string) =>
  z.string().min(1).max(longest).describe(description).register(wording, { unquoted: true });

export const oneOf = <const W extends readonly [string, ...string[]]>(
  words: W,
  noun: string,
  description: string,
) => z.enum(words).describe(description).register(wording, { noun });

export const amount = (least: number, most: number, hint: string, description: string) =>
  z.number().min(least).max(most).describe(description).register(wording, { hint });

export const yesNo = (description: string) => z.boolean().describe(description);
