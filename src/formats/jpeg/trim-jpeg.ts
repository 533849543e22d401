import { viewOf } from '../bytes.js';
import { refuseDamaged } from '../refusal.js';
import { mcusOf } from './frame.js';
import { isRestart } from './markers.js';
import { readJpeg } from './read-jpeg.js';
import { usedScanBytes } from './scan-end.js';

/**
 * A stripped file without what stands behind the last block of a baseline picture in one scan: decoders stop there
 * and report nothing (cameras pad with zeros; a name would fit as well). With several scans they do report it. The
 * same array when there is nothing to cut.
 */
export function trimJpeg(bytes: Uint8Array): Uint8Array {
  const { frame, scans } = readJpeg(bytes);
  const [scan] = scans;
  if (frame.progressive || scans.length !== 1 || !scan) return bytes;
  const data = viewOf(scan.data.length === 1 ? scan.data[0]! : Buffer.concat(scan.data));
  const { from, restarts } = lastRun(data, scan.restartInterval);
  const mcus = mcusOf(frame, scan) - restarts * scan.restartInterval;
  const used = usedScanBytes(frame, scan, data.subarray(from), mcus);
  if (used === null) refuseDamaged('JPEG', 'the picture is cut off');
  const surplus = data.length - from - used;
  if (surplus === 0) return bytes;
  const end = bytes.length - 2;
  return Buffer.concat([bytes.subarray(0, end - surplus), bytes.subarray(end)]);
}

/** Where the data after the last restart marker begins, and how many markers there are. */
function lastRun(data: Buffer, interval: number): { from: number; restarts: number } {
  let [from, restarts] = [0, 0];
  if (interval === 0) return { from, restarts };
  for (let at = data.indexOf(0xff); at >= 0; at = data.indexOf(0xff, at + 2))
    if (isRestart(data[at + 1] ?? 0)) {
      from = at + 2;
      restarts++;
    }
  return { from, restarts };
}
