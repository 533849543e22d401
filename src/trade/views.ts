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

const VIEW_TITLES: Record<ViewWord, string> = {
  periapical: 'Periapical radiograph',
  bitewing: 'Bitewing radiograph',
  occlusal: 'Occlusal radiograph',
  panoramic: 'Panoramic radiograph',
  'cbct-slice': 'Cone-beam slice',
  microscope: 'Microscope still',
  intraoral: 'Intraoral photograph',
  extraoral: 'Extraoral photograph',
  'surface-scan': 'Surface scan',
};

/** "Periapical radiograph, mesial angle"; "Cone-beam slice, axial". */
export function viewTitle(
  view: ViewWord,
  plane: SlicePlane | null = null,
  angle: Angle | null = null,
): string {
  const parts = [VIEW_TITLES[view]];
  if (view === 'cbct-slice' && plane !== null) parts.push(plane);
  if (isRadiograph(view) && view !== 'cbct-slice' && angle !== null) parts.push(`${angle} angle`);
  return parts.join(', ');
}
