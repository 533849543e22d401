import type { MetadataBlock, Survey } from '../format.js';
import { severalNotes } from '../several-pictures.js';
import { type TiffDirectory, TiffReader } from './directory.js';
import { readLayout, TAG } from './layout.js';
import { countPictures, picturePages } from './pages.js';

const BLOCKS: Record<number, [MetadataBlock['kind'], carrier: string]> = {
  700: ['xmp', 'xmp'],
  33723: ['iptc', 'iptc'],
  34377: ['iptc', 'iptc'],
  [TAG.icc]: ['icc', 'icc'],
};

/** Tags whose text is read with EXIF's names already: the ones of TIFF 6.0 and EXIF. */
const NAMED = new Set([270, 271, 272, 305, 306, 315, 316, 33432]);

/** The whole file is handed on as EXIF, since EXIF is TIFF; other pages and private tags are read here. */
export function surveyTiff(bytes: Uint8Array): Survey {
  const tiff = new TiffReader(bytes);
  const pages = picturePages(tiff);
  const layout = readLayout(tiff, pages[0]!);
  return {
    widthPx: layout.widthPx,
    heightPx: layout.heightPx,
    bitsPerChannel: layout.bits === 16 ? 16 : 8,
    grey: layout.photometric <= 1,
    blocks: [
      { kind: 'exif', carrier: 'exif', field: 'EXIF', bytes },
      ...pages.flatMap((page, index) => blocksOf(page, index)),
    ],
    notes: severalNotes(countPictures(tiff, pages)),
  };
}

function blocksOf(page: TiffDirectory, index: number): MetadataBlock[] {
  return [...page.entries.values()].flatMap(({ tag, type, bytes }): MetadataBlock[] => {
    if (!bytes) return [];
    const [kind, carrier] = BLOCKS[tag] ?? [];
    if (kind && carrier) return [{ kind, carrier, field: carrier.toUpperCase(), bytes }];
    const named = index === 0 && NAMED.has(tag);
    return type === 2 && !named ? [{ kind: 'text', carrier: 'text', field: `TIFF tag ${tag}`, bytes }] : [];
  });
}
