/** The codecs of WebAssembly that come without types; only what is used here. */
interface CodecModule {
  [decoder: string]: new () => CodecInstance;
}

interface CodecInstance {
  getEncodedBuffer(length: number): Uint8Array;
  getDecodedBuffer(): Uint8Array;
  decode(): void;
  getFrameInfo(): { width: number; height: number; bitsPerSample: number; componentCount: number };
  /** JPEG-LS only: 0 is one colour after the other. */
  getInterleaveMode?(): number;
}

type OpenCodec = (options: {
  print(line: string): void;
  printErr(line: string): void;
}) => Promise<CodecModule>;

declare module '@cornerstonejs/codec-charls/decodewasmjs' {
  const open: OpenCodec;
  export default open;
}
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
declare module 'jpeg-lossless-decoder-js' {
  export class Decoder {
    decode(
      buffer: ArrayBuffer,
      offset: number,
      length: number,
      bytesPerSample: number,
    ): Uint8Array | Uint16Array;
    xDim: number;
    yDim: number;
    yLoc: number;
  }
}
