import type { HeifFile } from './read-heif.js';

/** Item types that are pictures: coded ones, and those put together from others (ISO/IEC 23008-12). */
const PICTURES = new Set([
  'hvc1',
  'hev1',
  'grid',
  'iden',
  'iovl',
  'av01',
  'avc1',
  'jpeg',
  'j2k1',
  'vvc1',
  'unci',
]);

/** Pictures a viewer could show, and the lesser ones that belong to them. Tiles count as part of their picture. */
export function countPictures(heif: HeifFile): { pictures: number; thumbnails: number; auxiliary: number } {
  const count = { pictures: 0, thumbnails: 0, auxiliary: 0 };
  const refers = (type: string, id: number) =>
    heif.references.some((reference) => reference.type === type && reference.from === id);
  const tiles = new Set(heif.references.flatMap(({ type, to }) => (type === 'dimg' ? to : [])));
  for (const { id, type, hidden } of heif.items.values()) {
    if (!PICTURES.has(type) || (tiles.has(id) && id !== heif.primary)) continue;
    if (refers('thmb', id)) count.thumbnails++;
    else if (refers('auxl', id)) count.auxiliary++;
    else if (!hidden || id === heif.primary) count.pictures++;
  }
  return count;
}
