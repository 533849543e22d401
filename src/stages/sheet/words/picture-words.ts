import type { CourseRecord, PictureRecord } from '../../../trade/case-record.js';
import { isRadiograph } from '../../../trade/views.js';
import { BAND_WORDS, capital, clause, NBSP, stageText, VIEW_TEXT } from './stage-words.js';

/** "visit 1", "visit 2, day 14". */
export function visitText(picture: { visit: number }, course: CourseRecord): string {
  const day = course.visits.find((visit) => visit.visit === picture.visit)?.day ?? null;
  return day === null || day === 0 ? `visit ${picture.visit}` : `visit ${picture.visit}, day ${day}`;
}

/** "Before", "orifices". */
export const headWords = (picture: PictureRecord): { band: string; stage: string } => ({
  band: BAND_WORDS[picture.band],
  stage: clause(stageText(picture.stage, picture.stageWord)),
});

/** What else is said under a figure: how it was taken and what was done to it. */
export function detailWords(picture: PictureRecord, facts: { toScale: boolean | null }): string {
  const parts = [
    viewWords(picture),
    picture.magnification === null || picture.view === 'microscope' ? null : `×${picture.magnification}`,
    picture.flipped ? `mirror${NBSP}view, flipped` : null,
    orientationWords(picture.orientation),
    facts.toScale === false ? `not${NBSP}to${NBSP}scale` : null,
    picture.covered > 0 ? 'identifying text covered' : null,
  ].filter((part) => part !== null);
  return `${capital(parts.join('; '))}.`;
}

function viewWords(picture: PictureRecord): string {
  if (picture.view === 'microscope')
    return picture.magnification === null ? 'microscope' : `×${picture.magnification}`;
  const angle =
    picture.angle === null
      ? ''
      : `, ${picture.angle === 'straight' ? 'straight' : `${picture.angle}${NBSP}angle`}`;
  const plane = picture.plane === null ? '' : `, ${picture.plane}`;
  return `${VIEW_TEXT[picture.view].replace(' radiograph', '')}${plane}${angle}`;
}

function orientationWords(orientation: PictureRecord['orientation']): string | null {
  if (orientation === null) return null;
  const parts = [
    orientation.mesial === null ? null : `mesial${NBSP}${orientation.mesial}`,
    orientation.buccal === null ? null : `buccal${NBSP}${orientation.buccal}`,
  ].filter((part) => part !== null);
  return parts.length === 0 ? null : parts.join(', ');
}

/** For a reader who does not see the picture. */
export function altText(picture: PictureRecord, course: CourseRecord): string {
  const { band, stage } = headWords(picture);
  const kind =
    isRadiograph(picture.view) || picture.view !== 'microscope'
      ? VIEW_TEXT[picture.view]
      : 'microscope still';
  const caption = picture.caption === null ? 'no caption recorded' : clause(picture.caption);
  return `${capital(kind)}, ${band.toLowerCase()} treatment (${stage}), ${visitText(picture, course)}: ${caption}.`;
}
