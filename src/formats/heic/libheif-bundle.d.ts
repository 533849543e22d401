/** The part of libheif's compiled build that is called here; names and shapes from the package's own declarations. */
declare module 'libheif-js/libheif-wasm/libheif-bundle.js' {
  interface Pointer {
    $$: { ptr: number };
  }

  interface HeifChannel {
    width: number;
    height: number;
    /** Bytes from row to row. */
    stride: number;
    data: Uint8Array;
  }

  /** With `code` it is an error. */
  interface HeifDecoded {
    code?: unknown;
    image: Pointer;
    width: number;
    height: number;
    channels: HeifChannel[];
  }

  interface Libheif {
    HEAPU8: Uint8Array;
    heif_error_code: { heif_error_Ok: unknown };
    heif_colorspace: { heif_colorspace_RGB: unknown };
    heif_chroma: { heif_chroma_interleaved_RGB: unknown };
    heif_context_alloc(): Pointer;
    heif_context_free(context: Pointer): void;
    heif_context_read_from_memory(context: Pointer, bytes: Uint8Array): { code: unknown };
    heif_js_context_get_primary_image_handle(context: Pointer): (Pointer & { code?: unknown }) | null;
    heif_js_decode_image2(
      handle: Pointer,
      space: unknown,
      chroma: unknown,
    ): Promise<HeifDecoded> | HeifDecoded;
    heif_image_handle_release(handle: Pointer): void;
    heif_image_release(image: Pointer): void;
    _heif_context_get_security_limits(context: number): number;
    _heif_image_get_decoding_warnings(image: number, from: number, into: number, most: number): number;
  }

  export type { HeifChannel, Libheif };
  export default function libheif(options: { print(): void; printErr(): void }): Libheif;
}
