import { type Practice, type ReviewRecord, readReviews } from '../../practice/index.js';
import type { CaseRecord } from '../../trade/case-record.js';
import { orTrouble } from '../trouble.js';

/** Something a person should look at in a picture that a sheet shows. */
export interface SheetLook {
  /** Figure number on the sheet; null when it is not known which figures the sheet has. */
  figure: number | null;
  /** Number of the picture within the case. */
  picture: number;
  sentence: string;
}

/**
 * The looks of the pictures a sheet shows, in the order of its figures.
 * @param shown null, when it is not known what the sheet shows: then those of every picture it could show
 */
export function looksOf(
  { pictures }: Pick<CaseRecord, 'pictures'>,
  shown: readonly { figure: number; number: number }[] | null,
): SheetLook[] {
  const figures: readonly { figure: number | null; number: number }[] =
    shown ?? pictures.map(({ number }) => ({ figure: null, number }));
  return figures.flatMap(({ figure, number }) => {
    const looks = pictures.find((one) => one.number === number)?.look ?? [];
    return looks.map((sentence) => ({ figure, picture: number, sentence }));
  });
}

/** What people have seen of the sheet with these bytes. */
export async function reviewsOf(practice: Practice, code: string, template: string): Promise<ReviewRecord[]> {
  const all = orTrouble(await readReviews(practice));
  return all.filter((review) => review.case === code && review.template === template);
}

/** Looks that no review of these very bytes has shown to a person. */
export function openLooks(
  looks: readonly SheetLook[],
  reviews: readonly ReviewRecord[],
  sha256: string,
): SheetLook[] {
  const seen = reviews.filter((review) => review.sha256 === sha256).flatMap((review) => review.looks);
  return looks.filter(
    (look) => !seen.some(({ picture, sentence }) => picture === look.picture && sentence === look.sentence),
  );
}
