import { findIdentifiers, type IdentifierKind, type IdentityTerms } from '../../core/terms.js';
import type { CanalEntry, ImageEntry } from '../../trade/visit-document.js';
import type { Draft } from './draft.js';
import { type Path, pathKey } from './read-node.js';

/**
 * Free text that seems to identify the patient is left out, and told by its field, never by its value. A caption or
 * note goes alone; a text its entry cannot do without (a canal's label, the word of a stage) takes the entry along.
 * Reasons given in `answers` stay private and are not searched.
 */
export function holdIdentifyingTexts(draft: Draft, terms: IdentityTerms): void {
  const kinds = (text: string | null): IdentifierKind[] =>
    text === null ? [] : findIdentifiers(text, terms);
  /** The text, or null with a problem at its path. */
  const clean = (text: string | null, path: Path): string | null => {
    const found = kinds(text);
    if (found.length === 0) return text;
    draft.holding.push(identifies(found, path, draft));
    return null;
  };
  const { document } = draft;
  if ('supernumerary' in document.tooth && draft.toothKnown) {
    const found = kinds(document.tooth.supernumerary);
    if (found.length > 0) draft.refusing.push(identifies(found, ['tooth'], draft));
  }
  for (const key of ['pulp', 'apex'] as const) {
    document.diagnosis[key] = clean(document.diagnosis[key], ['diagnosis', key]);
  }
  document.canals = document.canals.filter((canal) =>
    checkCanal(canal, draft.canalAt.get(canal) ?? 0, clean),
  );
  document.images = document.images.filter((image) => {
    const at = draft.imageAt.get(image) ?? 0;
    const before = draft.holding.length;
    if (checkImage(image, at, clean)) return true;
    const fields = draft.holding.slice(before).map(({ path }) => String(path[2]));
    const { file, line } = image;
    draft.heldFiles.push({ file, fields: [...new Set(fields)], ...(line === null ? {} : { line }) });
    return false;
  });
  checkHandOff(draft, clean);
}

type Clean = (text: string | null, path: Path) => string | null;

function checkCanal(canal: CanalEntry, at: number, clean: Clean): boolean {
  const path = (...rest: string[]): Path => ['canals', at, ...rest];
  canal.reference = clean(canal.reference, path('reference'));
  canal.filled = clean(canal.filled, path('filled'));
  canal.note = clean(canal.note, path('note'));
  const joins = canal.joins === null || clean(canal.joins.canal, path('joins', 'canal')) !== null;
  return clean(canal.canal, path('canal')) !== null && joins;
}

function checkImage(image: ImageEntry, at: number, clean: Clean): boolean {
  const path = (...rest: (string | number)[]): Path => ['images', at, ...rest];
  image.caption = clean(image.caption, path('caption'));
  for (const list of ['cover', 'keep'] as const) {
    image[list].forEach((box, place) => {
      box.why = clean(box.why, path(list, place, 'why'));
    });
  }
  const kept = [
    image.other === null || clean(image.other.word, path('word')) !== null,
    ...image.canals.map((canal, place) => clean(canal, path('canals', place)) !== null),
    ...image.paths.map(({ canal }, place) => clean(canal, path('paths', place, 'canal')) !== null),
    ...Object.keys(image.landmarks).map((name) => clean(name, path('landmarks')) !== null),
    ...image.teeth.map(
      (tooth, place) =>
        !('supernumerary' in tooth) || clean(tooth.supernumerary, path('teeth', place)) !== null,
    ),
  ];
  return kept.every(Boolean);
}

function checkHandOff({ document }: Draft, clean: Clean): void {
  const { handoff } = document;
  for (const key of Object.keys(handoff) as (keyof typeof handoff)[]) {
    if (key !== 'mishaps') handoff[key] = clean(handoff[key], ['handoff', key]);
  }
  handoff.mishaps = handoff.mishaps.filter((text, at) => clean(text, ['handoff', 'mishaps', at]) !== null);
}

const WHAT: Record<IdentifierKind, string> = {
  name: "the patient's name",
  chart: "the patient's chart number",
  born: "the patient's birth date",
  date: 'a date',
  contact: 'contact data',
  number: 'a number that could belong to a person',
  age: 'an age above 89',
};

function identifies(kinds: IdentifierKind[], path: Path, draft: Draft) {
  const what = kinds.map((kind) => WHAT[kind]).join(' and ');
  const hint =
    kinds.includes('date') || kinds.includes('born') ? ' Say a time as a span, for example 4 weeks.' : '';
  const place = draft.places.get(pathKey(path)) ?? draft.places.get(pathKey(path.slice(0, -1)));
  return {
    offset: place?.offset ?? draft.offset,
    path,
    got: null,
    code: 'caption-identifies' as const,
    say: () =>
      `This text seems to hold ${what}, so it is left out. Reword it and take the visit in again.${hint}`,
  };
}
