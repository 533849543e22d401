/** The codecs of WebAssembly that come without types; only what is used here. */
interface CodecModule {
  [decoder: string]: new () => CodecInstance;
}

interface CodecInstance {
  getEncodedBuffer(length: number): Uint8Array;
  getDecodedBuffer(): Uint8Array;
  decode(): void;
  getFrameInfo(): { width: number; height: number; bitsPerSample: number; componentCount: number };
}

type OpenCodec = (options: {
  print(line: string): void;
  printErr(line: string): void;
}) => Promise<CodecModule>;

declare module '@cornerstonejs/codec-openjpeg/decodewasmjs' {
  const open: OpenCodec;
  export default open;
}
declare module '@cornerstonejs/codec-libjpeg-turbo-8bit/decodewasmjs' {
  const open: OpenCodec;
  export default open;
}
declare module '@cornerstonejs/codec-openjph/wasmjs' {
  const open: OpenCodec;
  export default open;
}
