/** Reads a file found inside another one. */
export type ReadNext = (inner: Uint8Array, where: string) => Promise<void>;
