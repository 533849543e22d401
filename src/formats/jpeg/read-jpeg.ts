import { startsWith, viewOf } from '../bytes.js';
import { refuseDamaged, refuseUnusual } from '../refusal.js';
import { findMarker } from './find-marker.js';
import { type JpegFrame, type JpegScan, readFrame, readScanHeader, restartsExpected } from './frame.js';
import * as M from './markers.js';
import { TableStore } from './tables.js';

/** A JPEG file taken apart. Every byte of it is in one of these, or counted as junk, fill or unused tables. */
export interface JpegParts {
  frame: JpegFrame;
  scans: JpegScan[];
  /** APPn and COM segments, those between scans too, in file order. */
  metadata: { marker: number; body: Uint8Array; carrier: string }[];
  /** The JFIF segment's body, when one stands before the first scan. */
  jfif: Uint8Array | null;
  /** Colour transform of the last Adobe segment before the first scan: 0 none, 1 YCbCr, 2 YCCK. */
  adobeTransform: number | null;
  /** Bytes between segments that belong to none. */
  junkBytes: number;
  /** What follows the picture's own end marker. */
  trailing: Uint8Array;
}

/** More scans than any encoder makes: each costs a decoder a pass over the picture. */
const MOST_SCANS = 200;

/** Walks the file marker by marker (ITU-T T.81 annex B); leaves by refusal when anything does not fit. */
export function readJpeg(bytes: Uint8Array): JpegParts {
  return new JpegReader(viewOf(bytes)).read();
}

class JpegReader {
  #at = 2;
  #restartInterval = 0;
  #frame: JpegFrame | null = null;
  readonly #tables = new TableStore();
  readonly #scans: JpegScan[] = [];
  readonly #metadata: JpegParts['metadata'] = [];
  #jfif: Uint8Array | null = null;
  #adobeTransform: number | null = null;
  #junkBytes = 0;

  constructor(readonly file: Buffer) {}

  read(): JpegParts {
    for (let marker = this.#nextMarker(); marker !== M.EOI; marker = this.#nextMarker()) {
      if (marker === M.SOI || M.isRestart(marker) || marker === 0x01)
        refuseDamaged('JPEG', 'a marker stands where none may');
      this.#segment(marker, this.#takeBody());
    }
    const frame = this.#frame;
    if (!frame || this.#scans.length === 0) refuseDamaged('JPEG', 'there is no picture in it');
    const seen = new Set(this.#scans.flatMap((scan) => scan.components.map(({ id }) => id)));
    if (seen.size !== frame.components.length) refuseDamaged('JPEG', 'a colour channel is missing');
    return {
      frame,
      scans: this.#scans,
      metadata: this.#metadata,
      jfif: this.#jfif,
      adobeTransform: this.#adobeTransform,
      junkBytes: this.#junkBytes,
      trailing: this.file.subarray(this.#at),
    };
  }

  /** Skips what belongs to no segment, as decoders do: other bytes, FF 00, and any number of fill bytes FF. */
  #nextMarker(): number {
    for (;;) {
      const start = this.file.indexOf(0xff, this.#at);
      if (start < 0) refuseDamaged('JPEG', 'its end is missing');
      this.#junkBytes += start - this.#at;
      const at = this.#skipFill(start);
      this.#at = at + 1;
      if (this.file[at] !== 0) return this.file[at]!;
      this.#junkBytes += 2;
    }
  }

  /** Position of the first byte after a run of FF. */
  #skipFill(from: number): number {
    let at = from + 1;
    while (this.file[at] === 0xff) at++;
    if (at >= this.file.length) refuseDamaged('JPEG', 'its end is missing');
    return at;
  }

  #takeBody(): Buffer {
    const length = this.file.readUInt16BE(this.#at);
    const end = this.#at + length;
    if (length < 2 || end > this.file.length)
      refuseDamaged('JPEG', 'a segment runs past the end of the file');
    const body = this.file.subarray(this.#at + 2, end);
    this.#at = end;
    return body;
  }

  #segment(marker: number, body: Buffer): void {
    if (M.isApplication(marker) || marker === M.COM) this.#keepAside(marker, body);
    else if (marker === M.DQT) this.#tables.defineQuantisation(body);
    else if (marker === M.DHT) this.#tables.defineHuffman(body);
    else if (marker === M.DRI) this.#setRestart(body);
    else if (marker === M.SOS) this.#scan(body);
    else if (marker === M.DNL) this.#checkLines(body);
    else if (M.isFrame(marker)) {
      if (this.#frame) refuseUnusual('JPEG', 'more than one frame');
      this.#frame = readFrame(marker, body);
    } else refuseUnusual('JPEG', 'a kind of segment that pictures do not need');
  }

  /** Colour depends on JFIF and Adobe only before the first scan: decoders decide there. */
  #keepAside(marker: number, body: Buffer): void {
    const carrier = M.carrierOf(marker, body);
    this.#metadata.push({ marker, body, carrier });
    if (this.#scans.length > 0) return;
    if (carrier === 'jfif' && body.length >= 14) this.#jfif = body;
    if (carrier === 'adobe' && startsWith(body, 'Adobe') && body.length >= 12) {
      if (body[11]! > 2) refuseUnusual('JPEG', 'an unknown colour transform');
      this.#adobeTransform = body[11]!;
    }
  }

  #setRestart(body: Buffer): void {
    if (body.length !== 2) refuseDamaged('JPEG', 'a restart interval is broken');
    this.#restartInterval = body.readUInt16BE(0);
  }

  #checkLines(body: Buffer): void {
    if (body.length !== 2 || body.readUInt16BE(0) !== this.#frame?.heightPx)
      refuseUnusual('JPEG', 'a height that is only told after the picture');
  }

  #scan(body: Buffer): void {
    const frame = this.#frame;
    if (!frame) refuseDamaged('JPEG', 'a scan stands before the frame header');
    if (this.#scans.length >= MOST_SCANS) refuseUnusual('JPEG', 'more scans than any camera makes');
    const header = readScanHeader(frame, body);
    const tables = this.#tables.takeFor(frame, header, this.#scans.length === 0);
    const data = this.#scanData(restartsExpected(frame, header, this.#restartInterval));
    this.#scans.push({ ...header, tables, restartInterval: this.#restartInterval, data });
  }

  /** Entropy-coded data up to the next marker that is no restart marker, fill bytes left out. */
  #scanData(restarts: number): Uint8Array[] {
    const { file } = this;
    const slices: Uint8Array[] = [];
    let from = this.#at;
    let seen = 0;
    for (let at = this.#at; ; ) {
      const start = findMarker(file, at);
      if (start < 0) refuseDamaged('JPEG', 'its end is missing');
      const after = this.#skipFill(start);
      if (after > start + 1) {
        slices.push(file.subarray(from, start));
        from = after - 1;
      }
      const marker = file[after]!;
      at = after + 1;
      if (marker === 0) continue;
      if (M.isRestart(marker) && marker === 0xd0 + (seen % 8) && seen < restarts) seen++;
      else {
        if (M.isRestart(marker) || seen !== restarts) refuseDamaged('JPEG', 'its restart markers do not fit');
        slices.push(file.subarray(from, Math.max(from, start)));
        this.#at = after - 1;
        return slices.filter((slice) => slice.length > 0);
      }
    }
  }
}
