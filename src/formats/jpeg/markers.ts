import { startsWith } from '../bytes.js';

/** Marker codes of ITU-T T.81, table B.1 (the byte after FF). */
export const SOI = 0xd8;
export const EOI = 0xd9;
export const SOS = 0xda;
export const DQT = 0xdb;
export const DNL = 0xdc;
export const DRI = 0xdd;
export const DHT = 0xc4;
export const COM = 0xfe;
export const APP0 = 0xe0;
export const APP2 = 0xe2;
export const APP14 = 0xee;

export const isRestart = (marker: number): boolean => marker >= 0xd0 && marker <= 0xd7;
export const isApplication = (marker: number): boolean => marker >= 0xe0 && marker <= 0xef;
/** Start of frame of any process: C0-CF without DHT (C4), JPG (C8) and DAC (CC). */
export const isFrame = (marker: number): boolean =>
  marker >= 0xc0 && marker <= 0xcf && marker !== DHT && marker !== 0xc8 && marker !== 0xcc;

export const XMP_HEAD = 'http://ns.adobe.com/xap/1.0/\0';
export const XMP_MORE_HEAD = 'http://ns.adobe.com/xmp/extension/\0';
export const ICC_HEAD = 'ICC_PROFILE\0';
export const EXIF_HEAD = 'Exif\0';
export const PHOTOSHOP_HEAD = 'Photoshop 3.0\0';
export const JFIF_HEAD = 'JFIF\0';

const CARRIERS: [marker: number, head: string, carrier: string][] = [
  [0xe0, JFIF_HEAD, 'jfif'],
  [0xe0, 'JFXX\0', 'jfif-extension'],
  [0xe1, EXIF_HEAD, 'exif'],
  [0xe1, XMP_HEAD, 'xmp'],
  [0xe1, XMP_MORE_HEAD, 'xmp-extended'],
  [0xe2, ICC_HEAD, 'icc'],
  [0xe2, 'MPF\0', 'multi-picture'],
  [0xed, PHOTOSHOP_HEAD, 'photoshop'],
  [0xee, 'Adobe', 'adobe'],
];

/** What an APPn or COM segment carries, as a word for the journal. */
export function carrierOf(marker: number, body: Uint8Array): string {
  if (marker === COM) return 'comment';
  const known = CARRIERS.find(([of, head]) => of === marker && startsWith(body, head));
  return known ? known[2] : `app${marker - APP0}`;
}
