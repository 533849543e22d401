import type { PictureFacts } from '../../../core/picture-facts.js';
import { knownCode, TOOTH_CODES } from '../../../formats/dicom/copy/index.js';
import { type DicomFile, everyElement, readShape } from '../../../formats/dicom/index.js';
import { LIMIT_PX } from '../../../formats/format.js';
import { captureTime } from '../capture-time.js';
import { decodersFor, readWith } from './character-sets.js';
import { collectObject } from './collect-object.js';

type ObjectFacts = Pick<
  PictureFacts,
  'orientation' | 'takenAt' | 'device' | 'source' | 'carriers' | 'identifying' | 'frames' | 'object'
>;

/** What a DICOM object says about itself; a field that cannot be read says nothing. Its survey was kept before. */
export function readObject(file: DicomFile): ObjectFacts {
  const { dataSet } = file;
  const decoders = decodersFor(dataSet.string('x00080005') ?? '');
  const text = (tag: string): string => {
    const element = dataSet.elements[tag];
    if (!element || element.items) return '';
    const { dataOffset, length } = element;
    return readWith(decoders, file.bytes.subarray(dataOffset, dataOffset + Math.min(length, 256)));
  };
  const source = [text('x00080070'), text('x00081090')].filter(Boolean).join(' ');
  const device = [source, text('x00181000')].filter(Boolean).join(' ');
  const object = anatomyOf(file);
  const { frames } = readShape(file, LIMIT_PX);
  return {
    orientation: 1,
    takenAt: takenAtOf(text),
    source: source || null,
    device: device || null,
    carriers: carriersOf(file),
    identifying: collectObject(file, decoders),
    ...(frames > 1 ? { frames } : {}),
    ...(object ? { object } : {}),
  };
}

function carriersOf({ elements, meta }: DicomFile): Record<string, number> {
  const counts: Record<string, number> = { dicom: meta?.length ?? 0 };
  for (const { tag } of everyElement(elements)) {
    const group = tag >>> 16;
    const kind = group % 2 === 1 ? 'private' : group >= 0x6000 && group <= 0x60ff ? 'overlay' : 'dicom';
    counts[kind] = (counts[kind] ?? 0) + 1;
  }
  return counts;
}

/** Date and time of the exposure, else of the picture, its series, its study (PS3.3, C.7.6.1, C.7.3.1, C.7.2.1). */
const MOMENTS = [
  ['x00080022', 'x00080032'],
  ['x00080023', 'x00080033'],
  ['x00080021', 'x00080031'],
  ['x00080020', 'x00080030'],
] as const;

function takenAtOf(text: (tag: string) => string): string | null {
  const joined = /^(\d{8})(\d{4,6}(?:\.\d{1,6})?)/.exec(text('x0008002a'));
  const pairs: (readonly [string, string])[] = MOMENTS.map(([day, time]) => [text(day), text(time)]);
  if (joined) pairs.unshift([joined[1] as string, joined[2] as string]);
  for (const [day, time] of pairs) {
    const moment = momentOf(day, time);
    if (moment) return moment;
  }
  return null;
}

/** DA and TM, also as ACR-NEMA wrote them: 1997.04.24 and 09:41:03 (PS3.5, table 6.2-1). No day without a time. */
function momentOf(day: string, time: string): string | null {
  const date = /^(\d{4})[.-]?(\d\d)[.-]?(\d\d)$/.exec(day);
  const clock = /^(\d\d):?(\d\d)(?::?(\d\d)(?:\.(\d{1,6}))?)?$/.exec(time);
  if (!date || !clock) return null;
  const [, hour, minute, second = '00', fraction] = clock;
  return captureTime(
    `${date.slice(1).join('-')}T${hour}:${minute}:${second}${fraction ? `.${fraction}` : ''}`,
  );
}

const SIDES: Record<string, 'left' | 'right' | 'both'> = { L: 'left', R: 'right', B: 'both' };

/** Primary Anatomic Structure Sequence and Image Laterality, or Laterality (PS3.3, C.8.11.9 and 10.5). */
function anatomyOf({ dataSet }: DicomFile): PictureFacts['object'] | null {
  const teeth = (dataSet.elements['x00082228']?.items ?? []).flatMap(({ dataSet: item }) => {
    const tooth = knownCode(
      TOOTH_CODES,
      item?.string('x00080102') ?? '',
      item?.string('x00080100') ?? '',
    )?.tooth;
    return tooth ? [tooth] : [];
  });
  const side = SIDES[dataSet.string('x00200062') ?? ''] ?? SIDES[dataSet.string('x00200060') ?? ''] ?? null;
  if (teeth.length === 0 && side === null) return null;
  return { teeth: [...new Set(teeth)].sort((a, b) => a - b), side };
}
