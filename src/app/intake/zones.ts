import type { PictureFacts } from '../../core/picture-facts.js';
import type { FoundBox } from '../../finders/finder.js';
import { clipped } from '../../finders/text/boxes.js';
import type { Practice } from '../../practice/index.js';
import { holds } from '../../stages/cover/kept-texts.js';
import type { ShownPicture } from '../../stages/record/index.js';
import { isFrom } from './sort-pictures.js';

/** Zones that practice.yaml has covered in every picture of this one's source. */
export const zonesFor = ({ settings }: Practice, facts: PictureFacts | null, name: string): FoundBox[] =>
  settings.coverAlways.filter(({ source }) => isFrom(source, facts, name)).map(({ box }) => box);

/** Whether a picture on file is covered in just these zones, as far as they lie in it. */
export function isCoveredIn(shown: ShownPicture, zones: readonly FoundBox[]): boolean {
  const covers = shown.covers ?? [];
  const inside = zones.map((zone) => clipped(zone, shown)).filter((zone) => zone !== null);
  return (
    inside.every((zone) => covers.some(({ box }) => holds(box, zone))) &&
    covers.every(({ box, kind }) => kind !== 'zone' || inside.some((zone) => holds(box, zone)))
  );
}
