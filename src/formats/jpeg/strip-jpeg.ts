import { latin1Bytes, tally } from '../bytes.js';
import { canonicalProfile } from '../colour-profile/index.js';
import type { StrippedPart, StrippedParts } from '../format.js';
import * as M from './markers.js';
import { joinProfile, profileSegments } from './profile-chunks.js';
import { type JpegParts, readJpeg } from './read-jpeg.js';

/**
 * The same scans in a file of our own: SOI, JFIF and Adobe rewritten if they were there (adding or dropping one
 * changes colours), a rebuilt profile, then before each scan only the tables it uses, in their latest form.
 */
export function stripJpeg(bytes: Uint8Array): StrippedParts {
  const jpeg = readJpeg(bytes);
  const channels = ({ 1: 'grey', 3: 'rgb', 4: 'cmyk' } as const)[jpeg.frame.components.length as 1 | 3 | 4];
  const { profile, notes } = canonicalProfile(joinProfile(jpeg.metadata), channels);
  const parts: StrippedPart[] = [head(Uint8Array.of(0xff, M.SOI))];
  const emit = (marker: number, body: Uint8Array): void => {
    parts.push(head(segment(marker, body)));
  };
  if (jpeg.jfif) emit(M.APP0, canonicalJfif(jpeg.jfif));
  if (jpeg.adobeTransform !== null) emit(M.APP14, canonicalAdobe(jpeg.adobeTransform));
  if (profile) for (const { marker, body } of profileSegments(profile)) emit(marker, body);
  emitScans(jpeg, emit, parts);
  parts.push(head(Uint8Array.of(0xff, M.EOI)));
  return { parts: joinHeads(parts), removed: countRemoved(jpeg), notes };
}

function emitScans(jpeg: JpegParts, emit: (marker: number, body: Uint8Array) => void, parts: StrippedPart[]) {
  let interval = 0;
  jpeg.scans.forEach((scan, index) => {
    for (const table of scan.tables) if (table.marker === M.DQT) emit(M.DQT, table.body);
    if (index === 0) emit(jpeg.frame.marker, jpeg.frame.body);
    for (const table of scan.tables) if (table.marker === M.DHT) emit(M.DHT, table.body);
    if (scan.restartInterval !== interval) {
      interval = scan.restartInterval;
      emit(M.DRI, Uint8Array.of(interval >> 8, interval & 255));
    }
    emit(M.SOS, scan.body);
    for (const data of scan.data) parts.push({ bytes: data, picture: true });
  });
}

/** Runs of small segments as one, so that a file is written in few pieces. */
function joinHeads(parts: StrippedPart[]): StrippedPart[] {
  const joined: StrippedPart[] = [];
  let run: Uint8Array[] = [];
  for (const part of parts) {
    if (!part.picture) {
      run.push(part.bytes);
      continue;
    }
    joined.push(head(Buffer.concat(run)), part);
    run = [];
  }
  return [...joined, head(Buffer.concat(run))];
}

const head = (bytes: Uint8Array): StrippedPart => ({ bytes, picture: false });

function segment(marker: number, body: Uint8Array): Uint8Array {
  const length = body.length + 2;
  return Buffer.concat([Uint8Array.of(0xff, marker, length >> 8, length & 255), body]);
}

/** JFIF 1.02: head, version 1.01, density as it was, no thumbnail. */
function canonicalJfif(body: Uint8Array): Uint8Array {
  const density = body[7]! <= 2 ? body.subarray(7, 12) : Uint8Array.of(0, 0, 1, 0, 1);
  return Buffer.concat([latin1Bytes(M.JFIF_HEAD), Uint8Array.of(1, 1), density, Uint8Array.of(0, 0)]);
}

/** The 12 bytes decoders read; only the last one, the colour transform, has a meaning. */
function canonicalAdobe(transform: number): Uint8Array {
  return Buffer.concat([latin1Bytes('Adobe'), Uint8Array.of(0, 100, 0, 0, 0, 0, transform)]);
}

function countRemoved(jpeg: JpegParts): Record<string, number> {
  const removed: Record<string, number> = {};
  for (const { carrier } of jpeg.metadata)
    if (carrier !== 'jfif' && carrier !== 'adobe') tally(removed, carrier);
  tally(removed, 'junk-bytes', jpeg.junkBytes);
  if (jpeg.trailing.length > 0) tally(removed, 'after-the-end');
  return removed;
}
