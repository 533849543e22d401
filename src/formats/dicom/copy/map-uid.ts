import { createHmac } from 'node:crypto';

/** UIDs that the standard itself assigns begin so (PS3.5, annex A; PS3.6, annex A). They identify nobody's object. */
const STANDARD_ROOT = '1.2.840.10008.';

/**
 * The new UID of a source UID: 2.25 and a UUID in decimal (PS3.5, B.2). The UUID is of version 8 (RFC 9562, 5.8), made
 * of the first 16 bytes of HMAC-SHA256(key, UID), so the same object has the same new name in every batch, and nobody
 * without the key can try source UIDs. UIDs of the standard stay as they are.
 */
export function mapUid(key: Uint8Array, uid: string): string {
  if (uid.startsWith(STANDARD_ROOT)) return uid;
  return keyedUid(key, uid);
}

/** As `mapUid`, for what is never a UID of the standard: instances, or any other name of an object. */
export function keyedUid(key: Uint8Array, name: string): string {
  const uuid = createHmac('sha256', key).update(name, 'utf8').digest().subarray(0, 16);
  uuid[6] = (uuid[6]! & 0x0f) | 0x80;
  uuid[8] = (uuid[8]! & 0x3f) | 0x80;
  return `2.25.${BigInt(`0x${uuid.toString('hex')}`)}`;
}

/** True for a UID of the form that `keyedUid` makes. */
export function isKeyedUid(uid: string): boolean {
  const decimal = /^2\.25\.([1-9]\d{0,38})$/.exec(uid)?.[1];
  if (decimal === undefined) return false;
  const hex = BigInt(decimal).toString(16).padStart(32, '0');
  return hex.length === 32 && hex[12] === '8' && '89ab'.includes(hex[16]!);
}
