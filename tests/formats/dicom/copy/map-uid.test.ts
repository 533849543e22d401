import { createHmac } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isKeyedUid, keyedUid, mapUid } from '../../../../src/formats/dicom/copy/map-uid.js';

const SECRET = Buffer.from('case-secret-for-test');
const uids = fc
  .array(fc.integer({ min: 0, max: 999_999_999 }), { minLength: 1, maxLength: 6 })
  .map((parts) => `1.3.${parts.join('.')}`);
const keys = fc.uint8Array({ minLength: 32, maxLength: 32 });

describe('the map of UIDs', () => {
  it('gives the known answer', () => {
    // worked out apart from this code, by another program
    expect(mapUid(SECRET, '1.2.3.4.5')).toBe('2.25.270292264738699429726239126309325074928');
  });

  it('is HMAC-SHA256 in a UUID of version 8, written in decimal', () => {
    fc.assert(
      fc.property(keys, uids, (key, uid) => {
        const digest = createHmac('sha256', key).update(uid).digest('hex');
        const hex = BigInt(mapUid(key, uid).slice('2.25.'.length)).toString(16).padStart(32, '0');
        // RFC 9562, 4.1 and 5.8: four bits of version, two of variant, the rest free
        expect(hex[12]).toBe('8');
        expect('89ab').toContain(hex[16]);
        const free = (text: string) => text.slice(0, 12) + text.slice(13, 16) + text.slice(17, 32);
        expect(free(hex)).toBe(free(digest));
      }),
    );
  });

  it('makes UIDs that PS3.5 allows: at most 64 characters, no component with a leading zero', () => {
    fc.assert(
      fc.property(keys, uids, (key, uid) => {
        const mapped = mapUid(key, uid);
        expect(mapped.length).toBeLessThanOrEqual(64);
        expect(mapped).toMatch(/^(?:0|[1-9]\d*)(?:\.(?:0|[1-9]\d*))+$/);
        expect(isKeyedUid(mapped)).toBe(true);
        expect(mapped).not.toBe(uid);
      }),
    );
  });

  it('gives the same object the same name in every batch, and another under another key', () => {
    fc.assert(
      fc.property(keys, keys, uids, (key, other, uid) => {
        expect(mapUid(key, uid)).toBe(mapUid(Uint8Array.from(key), uid));
        fc.pre(!Buffer.from(key).equals(Buffer.from(other)));
        expect(mapUid(other, uid)).not.toBe(mapUid(key, uid));
      }),
    );
  });

  it('leaves the UIDs of the standard alone', () => {
    for (const uid of ['1.2.840.10008.5.1.4.1.1.1.3', '1.2.840.10008.1.2.1'])
      expect(mapUid(SECRET, uid)).toBe(uid);
    expect(mapUid(SECRET, '1.2.840.100089.1')).toMatch(/^2\.25\./);
    expect(keyedUid(SECRET, '1.2.840.10008.1.1')).toMatch(/^2\.25\./);
  });

  it('knows its own form only', () => {
    expect(isKeyedUid('2.25.1')).toBe(false);
    expect(isKeyedUid('2.25.0270292264738699429726239126309325074928')).toBe(false);
    expect(isKeyedUid('1.2.3.4.5')).toBe(false);
    expect(isKeyedUid('2.25.340282366920938463463374607431768211455')).toBe(false);
  });
});
