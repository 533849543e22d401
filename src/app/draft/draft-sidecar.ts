import type { DraftPicture } from './capture-order.js';

/**
 * The text of a visit.yaml prefilled with what the pictures say: names, order, groups in time, radiograph or colour,
 * a likely stage. It refuses to be taken for finished: the tooth is left for a person to fill in.
 */
export function draftSidecar(pictures: readonly DraftPicture[]): string {
  const day = pictures.find((picture) => picture.takenAt)?.takenAt?.slice(0, 10) ?? null;
  const lines = [
    '# A draft. Correct what is wrong, fill in what is empty, and put this file into the visit folder.',
    '# The numbers in the comments are those of the contact sheet beside it.',
    'patient:',
    '  chart:            # chart number, for example A-20417',
    '  names: []         # for example [Rowan Testcase]',
    '  born:             # for example 1984-06-02',
    'visit:',
    `  date: ${day ?? '            # for example 2026-02-11'}`,
    '  state:            # finished, interim, emergency, interrupted or consultation',
    'treatment:',
    '  kind:             # for example root-canal-treatment or retreatment',
    '  course: 1         # 2 for the second treatment of this tooth',
    'tooth:              # for example {fdi: 46}, {universal: 30} or {palmer: LR6}',
    'consent: {referral: , teaching: , publication: }   # true or false',
    'canals: []          # for example - {canal: MB, length: 20.5, reference: MB cusp tip, size: 30, taper: 0.04}',
    'images:',
  ];
  const stages = likelyStages(pictures);
  let group = 0;
  for (const [at, picture] of pictures.entries()) {
    if (picture.group !== group) {
      group = picture.group;
      lines.push(`  # group ${group}${picture.takenAt ? `, from ${picture.takenAt.slice(11, 16)}` : ''}`);
    }
    const view = picture.radiograph ? 'periapical' : 'microscope';
    lines.push(`  # ${at + 1}`);
    lines.push(`  - {file: ${quoted(picture.file.name)}, stage: ${stages[at]}, view: ${view}}`);
  }
  return `${lines.join('\n')}\n`;
}

/**
 * A first guess that a person corrects: of the radiographs the first is pre-op and the last post-op, those between
 * show lengths; of the stills the first group is access and the last obturation. Common practice, no source.
 */
function likelyStages(pictures: readonly DraftPicture[]): string[] {
  const films = pictures.filter((picture) => picture.radiograph);
  const stills = pictures.filter((picture) => !picture.radiograph);
  const guess = (
    list: readonly DraftPicture[],
    picture: DraftPicture,
    words: readonly [string, string, string],
  ) => {
    const at = list.indexOf(picture);
    if (at === 0) return words[0];
    return at === list.length - 1 ? words[2] : words[1];
  };
  return pictures.map((picture) =>
    picture.radiograph
      ? guess(films, picture, ['pre-op', 'working-length', 'post-op'])
      : guess(stills, picture, ['access', 'orifices', 'obturation']),
  );
}

/** A file name as a YAML double-quoted scalar (YAML 1.2.2, 7.3.1): JSON strings are valid there. */
const quoted = (name: string): string => JSON.stringify(name);
