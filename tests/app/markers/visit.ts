/**
 * One visit folder with a mark in every place that can hold one: pictures of every format, names of files and folders,
 * the sidecar's private fields and comments.
 */
import { dicomPlaces } from './dicom-places.js';
import { heicPlaces } from './heic-places.js';
import { jpegPlaces } from './jpeg-places.js';
import { type Place, type Plant, Planter } from './plant.js';
import { pngPlaces } from './png-places.js';
import { tiffPlaces } from './tiff-places.js';
import { webpPlaces } from './webp-places.js';

export interface MadeFile {
  name: string;
  /** `periapical` for DICOM, `microscope` for others, when not given. */
  view?: string;
  make(plant: Plant): Promise<Buffer>;
}

export interface MarkedVisit {
  folder: string;
  files: Record<string, Buffer>;
  /** Where the marks are; those of names, sidecar and settings stand in no picture. */
  places: Place[];
  settings: string;
}

const SIDECAR = 'visit.yaml';
const ALL: MadeFile[] = [
  ...jpegPlaces,
  ...pngPlaces,
  ...tiffPlaces,
  ...webpPlaces,
  ...heicPlaces,
  ...dicomPlaces,
];

export async function markedVisit(): Promise<MarkedVisit> {
  const planter = new Planter();
  const names = planter.in(null);
  const folder = names.word('name of the folder');
  const below = names.word('name of a folder within');
  const files: Record<string, Buffer> = {};
  const images: { file: string; view: string }[] = [];
  for (const { name, view, make } of ALL) {
    const isObject = name.endsWith('.dcm');
    const file = `${isObject ? `${below}/` : ''}${names.word(`name of the file ${name}`)} ${name}`;
    files[file] = await make(planter.in(file));
    images.push({ file, view: view ?? (isObject ? 'periapical' : 'microscope') });
  }
  const notes = `${names.word('name of a note')} note.txt`;
  files[notes] = planter.in(notes).bytes('a note beside the pictures');
  files[SIDECAR] = Buffer.from(sidecarOf(planter.in(SIDECAR), images));
  return { folder, files, places: planter.places, settings: settingsOf(planter.in('practice.yaml')) };
}

/** The patient's name is in free text too: that text must be held, not printed. */
function sidecarOf(plant: Plant, images: { file: string; view: string }[]): string {
  const name = plant.word('patient, a name');
  const entries = images.map(({ file, view }, n) => {
    const more =
      n === 0
        ? `, caption: "Floor of the chamber of ${name}", cover: [{box: [1, 1, 4, 4], by: ${plant.short('cover, by')}}], keep: [{box: [9, 9, 4, 4], by: ${plant.short('keep, by')}}]`
        : '';
    const plane = view === 'cbct-slice' ? ', plane: axial' : '';
    return `  - {file: "${file}", stage: ${view === 'microscope' ? 'orifices' : 'pre-op'}, view: ${view}${plane}${more}} # ${plant.word('comment of a picture')}`;
  });
  return `# ${plant.word('first comment')}
patient:
  chart: ${plant.word('chart')} # ${plant.word('comment of the patient')}
  names: ["${name}", "${plant.word('patient, another name')}"]
  born: 1984-06-02
visit: {date: 2026-02-11, state: interim} # ${plant.word('comment of the visit')}
treatment: {kind: root-canal-treatment}
tooth: {fdi: 16}
diagnosis: {pulp: "as ${name} tells it", apex: asymptomatic apical periodontitis}
canals:
  - {canal: MB, length: 20.5, note: "${name} came late"}
images:
${entries.join('\n')}
answers:
  - {code: other-patient, by: ${plant.short('answer, by')}, why: ${plant.word('answer, why')}}
  - {code: shot-missing, by: ${plant.short('second answer, by')}, why: "${plant.word('second answer, why')}"}
handoff: {next: obturation, due: 2 weeks, recall: "${name}, in a year", caries: "for ${name}"}
# ${plant.word('last comment')}
`;
}

const settingsOf = (plant: Plant): string =>
  `# ${plant.word('first comment of the settings')}
dicomCopies: true # ${plant.word('comment of a setting')}
sources: [] # ${plant.word('comment of the cameras')}
# ${plant.word('last comment of the settings')}
`;
