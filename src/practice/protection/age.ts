import { failed, kept, type Outcome } from '../../core/outcome.js';

/**
 * Encryption in the age file format (age-encryption.org/v1), which other programs read too: to one X25519 recipient, or
 * to a passphrase by scrypt. Loaded only by a practice that is protected, since loading it takes time.
 */
type Age = typeof import('age-encryption');

let loading: Promise<Age> | null = null;
const age = (): Promise<Age> => {
  loading ??= import('age-encryption');
  return loading;
};

/** The first line of every age file (age-encryption.org/v1, "Header"). */
const FIRST_LINE = Buffer.from('age-encryption.org/v1\n');

export const FIRST_LINE_BYTES = FIRST_LINE.length;

export const isSealed = (bytes: Uint8Array): boolean =>
  Buffer.compare(bytes.subarray(0, FIRST_LINE.length), FIRST_LINE) === 0;

/**
 * Bytes before the payload of a file for one X25519 recipient: first line 22, stanza 10 + 43 + 1 + 43 + 1, MAC line
 * 4 + 43 + 1, payload nonce 16.
 */
const HEAD_BYTES = 22 + 98 + 48 + 16;
const CHUNK_BYTES = 64 * 1024;
const TAG_BYTES = 16;

/** How long `sizeBytes` are once sealed: a tag for each chunk, and an empty payload is one empty chunk. */
export const sealedSize = (sizeBytes: number): number =>
  HEAD_BYTES + sizeBytes + TAG_BYTES * Math.max(1, Math.ceil(sizeBytes / CHUNK_BYTES));

/** Encrypts to the practice's public recipient; needs no secret. Throws for a recipient that is none. */
export async function seal(recipient: string, bytes: Uint8Array): Promise<Uint8Array> {
  const encrypter = new (await age()).Encrypter();
  encrypter.addRecipient(recipient);
  return encrypter.encrypt(bytes);
}

/** @param file name under private/, for the sentence when the bytes are damaged or meant for another key */
export async function unseal(
  identity: string,
  bytes: Uint8Array,
  file: string,
): Promise<Outcome<Uint8Array>> {
  try {
    const decrypter = new (await age()).Decrypter();
    decrypter.addIdentity(identity);
    return kept(await decrypter.decrypt(bytes));
  } catch {
    return failed({ code: 'ledger-damaged', file, line: null });
  }
}

/** A fresh identity; X25519, since every program that reads the format knows it. */
export const newIdentity = async (): Promise<string> => (await age()).generateX25519Identity();

/** Null for text that is no identity. */
export const recipientOfIdentity = async (identity: string): Promise<string | null> =>
  (await age()).identityToRecipient(identity).catch(() => null);

/**
 * An identity under a passphrase, armoured.
 * @param workFactor log2 of the scrypt cost; 18 is the format's usual one, a second or two
 */
export async function wrapIdentity(
  identity: string,
  passphrase: string,
  workFactor = 18,
): Promise<Uint8Array> {
  const { Encrypter, armor } = await age();
  const encrypter = new Encrypter();
  encrypter.setScryptWorkFactor(workFactor);
  encrypter.setPassphrase(passphrase);
  return Buffer.from(armor.encode(await encrypter.encrypt(`${identity}\n`)));
}

/** The identity, or null when the passphrase does not open it or the bytes are not what was written. */
export async function unwrapIdentity(wrapped: Uint8Array, passphrase: string): Promise<string | null> {
  try {
    const { Decrypter, armor } = await age();
    const decrypter = new Decrypter();
    decrypter.addPassphrase(passphrase);
    const bytes = armor.decode(Buffer.from(wrapped).toString('utf8'));
    return (await decrypter.decrypt(bytes, 'text')).trim();
  } catch {
    return null;
  }
}
