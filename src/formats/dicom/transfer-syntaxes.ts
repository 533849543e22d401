/** How the pixels of one frame are coded; each has one reader in `decode-frame.ts`. */
export type Coding =
  | 'native'
  | 'rle'
  | 'jpeg-8'
  | 'jpeg-12'
  | 'jpeg-lossless'
  | 'jpeg-ls'
  | 'jpeg-2000'
  | 'htj2k';

export interface TransferSyntax {
  explicit: boolean;
  bigEndian: boolean;
  deflated: boolean;
  coding: Coding;
}

const coded = (coding: Coding): TransferSyntax => ({
  explicit: true,
  bigEndian: false,
  deflated: false,
  coding,
});

export const IMPLICIT_LITTLE = '1.2.840.10008.1.2';
export const EXPLICIT_LITTLE = '1.2.840.10008.1.2.1';
export const EXPLICIT_BIG = '1.2.840.10008.1.2.2';

/** DICOM PS3.6, table A-1, and PS3.5, annex A: those that are read. Every other one is held. */
export const TRANSFER_SYNTAXES: ReadonlyMap<string, TransferSyntax> = new Map([
  [IMPLICIT_LITTLE, { ...coded('native'), explicit: false }],
  [EXPLICIT_LITTLE, coded('native')],
  ['1.2.840.10008.1.2.1.99', { ...coded('native'), deflated: true }],
  [EXPLICIT_BIG, { ...coded('native'), bigEndian: true }],
  ['1.2.840.10008.1.2.5', coded('rle')],
  ['1.2.840.10008.1.2.4.50', coded('jpeg-8')],
  ['1.2.840.10008.1.2.4.51', coded('jpeg-12')],
  ['1.2.840.10008.1.2.4.57', coded('jpeg-lossless')],
  ['1.2.840.10008.1.2.4.70', coded('jpeg-lossless')],
  ['1.2.840.10008.1.2.4.80', coded('jpeg-ls')],
  ['1.2.840.10008.1.2.4.81', coded('jpeg-ls')],
  ['1.2.840.10008.1.2.4.90', coded('jpeg-2000')],
  ['1.2.840.10008.1.2.4.91', coded('jpeg-2000')],
  ['1.2.840.10008.1.2.4.201', coded('htj2k')],
  ['1.2.840.10008.1.2.4.203', coded('htj2k')],
]);
