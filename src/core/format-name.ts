/** Picture formats told apart by their bytes; the last is recognised and held. */
export type FormatName = 'JPEG' | 'PNG' | 'TIFF' | 'WebP' | 'DICOM' | 'HEIC' | 'DICOMDIR';

/** The extension under which originals and stripped bytes of a format are stored. */
export const EXTENSION: Record<FormatName, string> = {
  JPEG: 'jpg',
  PNG: 'png',
  TIFF: 'tif',
  WebP: 'webp',
  DICOM: 'dcm',
  HEIC: 'heic',
  DICOMDIR: 'dicomdir',
};
