/** How a picture was taken. */
export const VIEWS = [
  'periapical',
  'bitewing',
  'occlusal',
  'panoramic',
  'cbct-slice',
  'microscope',
  'intraoral',
  'extraoral',
  'surface-scan',
] as const;
export type ViewWord = (typeof VIEWS)[number];

/** Horizontal direction of the beam for an intraoral radiograph. */
export const ANGLES = ['straight', 'mesial', 'distal'] as const;
export type Angle = (typeof ANGLES)[number];

export const SLICE_PLANES = ['axial', 'sagittal', 'coronal', 'oblique'] as const;
export type SlicePlane = (typeof SLICE_PLANES)[number];

const RADIOGRAPHS: readonly ViewWord[] = ['periapical', 'bitewing', 'occlusal', 'panoramic', 'cbct-slice'];

/** True for pictures made with x-rays: rendered grey, shown in the radiograph row. */
export const isRadiograph = (view: ViewWord): boolean => RADIOGRAPHS.includes(view);
