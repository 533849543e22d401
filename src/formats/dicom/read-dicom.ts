import dicomParser, { type DataSet } from 'dicom-parser';
import { held, type Outcome } from '../../core/outcome.js';
import { latin1At } from '../bytes.js';
import { outcomeOf, refuseDamaged, refuseUnusual } from '../refusal.js';
import { DIRECTORY_CLASS, findDataSet } from './find-data-set.js';
import { EXPLICIT_BIG, EXPLICIT_LITTLE, IMPLICIT_LITTLE, type TransferSyntax } from './transfer-syntaxes.js';
import { PIXEL_DATA, type WalkedElement, walkElements } from './walk-elements.js';

/** An image object, read twice: by the parser of the library and by our own walk, which agree. */
export interface DicomFile {
  /** The parser's reading of the data set, without the file meta group; its places count in `bytes`. */
  dataSet: DataSet;
  /** The same elements as our own walk found them, at every depth, in the order of the file; places in `bytes`. */
  elements: WalkedElement[];
  /** The data set alone, unpacked when it was deflated. */
  bytes: Uint8Array;
  /** The file meta group, whose places count in `file`; null when the file has none. */
  meta: WalkedElement[] | null;
  /** The file as it came. */
  file: Uint8Array;
  /** UID of the transfer syntax; assumed when there is no file meta group. */
  transferSyntax: string;
  syntax: TransferSyntax;
}

/** Directory Record Sequence (PS3.3, F.3.2.2), which only a DICOMDIR has. */
const DIRECTORY_RECORDS = 0x00041220;
const SOP_CLASS = 0x00080016;

/**
 * A DICOM image object, with or without preamble and file meta group. Held: `disc-index` for a DICOMDIR, `unusual`
 * for one without transfer syntax, picture or end, `damaged` when lengths contradict each other. Decodes nothing.
 */
export function readDicom(file: Uint8Array): Outcome<DicomFile> {
  const outcome = outcomeOf('DICOM', () => {
    const { bytes, meta, transferSyntax, syntax } = findDataSet(file);
    const elements = walkElements(bytes, syntax);
    const found = { elements, bytes, meta, file, transferSyntax, syntax };
    if (indexesADisc(found)) return null;
    const pixels = elements.find(({ tag }) => tag === PIXEL_DATA);
    if (!pixels) return refuseUnusual('DICOM', 'it holds no picture');
    if ((pixels.fragments !== null) !== (syntax.coding !== 'native'))
      return refuseDamaged('DICOM', 'its picture is not coded as it says');
    return { ...found, dataSet: parse(bytes, syntax, elements) };
  });
  if (outcome.kind !== 'kept') return outcome;
  return outcome.value === null ? held({ code: 'disc-index' }) : { kind: 'kept', value: outcome.value };
}

function indexesADisc({ elements, bytes }: { elements: WalkedElement[]; bytes: Uint8Array }): boolean {
  return elements.some(
    ({ tag, at, length }) =>
      tag === DIRECTORY_RECORDS ||
      (tag === SOP_CLASS && latin1At(bytes, at, length).replace(/[\0 ]+$/, '') === DIRECTORY_CLASS),
  );
}

/** The walk has checked every length, so the parser cannot be led astray; it throws texts and plain objects. */
function parse(bytes: Uint8Array, syntax: TransferSyntax, elements: readonly WalkedElement[]): DataSet {
  const TransferSyntaxUID = syntax.bigEndian
    ? EXPLICIT_BIG
    : syntax.explicit
      ? EXPLICIT_LITTLE
      : IMPLICIT_LITTLE;
  let dataSet: DataSet;
  try {
    dataSet = dicomParser.parseDicom(bytes, {
      TransferSyntaxUID,
      ...(syntax.explicit ? {} : { vrCallback }),
    });
  } catch {
    return refuseUnusual('DICOM', 'a way of writing that cannot be read for certain');
  }
  if (!agree(dataSet, elements)) refuseUnusual('DICOM', 'a way of writing that can be read in two ways');
  return dataSet;
}

/** Without a dictionary the parser would take picture data that happens to begin like an item for a sequence. */
const vrCallback = (tag: string): string => (tag === 'x7fe00010' ? 'OW' : (undefined as unknown as string));

const ITEM_END = 'xfffee00d';

function agree(dataSet: DataSet, elements: readonly WalkedElement[]): boolean {
  const names = Object.keys(dataSet.elements).filter((name) => name !== ITEM_END && name !== 'x00020010');
  if (names.length !== elements.length) return false;
  return elements.every((walked) => {
    const parsed = dataSet.elements[`x${walked.tag.toString(16).padStart(8, '0')}`];
    if (!parsed || parsed.dataOffset !== walked.at) return false;
    // the first of the walk's fragments is the offset table, which the parser keeps apart
    if (walked.fragments)
      return (
        parsed.fragments?.length === walked.fragments.length - 1 &&
        parsed.fragments.every(
          ({ position, length }, at) =>
            position === walked.fragments?.[at + 1]?.at && length === walked.fragments[at + 1]?.length,
        )
      );
    if (!walked.items) return parsed.length === walked.length && !parsed.items?.length;
    // the parser leaves private sequences of implicit VR closed
    if (!parsed.items) return walked.vr === null && (walked.tag >>> 16) % 2 === 1;
    return (
      parsed.items.length === walked.items.length &&
      walked.items.every((item, at) => {
        const inside = parsed.items?.[at]?.dataSet;
        return inside !== undefined && agree(inside, item);
      })
    );
  });
}
