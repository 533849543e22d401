/** The part of libheif's compiled build that is called here, libde265; names from the package's own declarations. */
declare module 'libheif-js/libheif-wasm/libheif-bundle.js' {
  /** Pointers and sizes are numbers; `context` and `image` are pointers, `plane` is 0 brightness, 1 and 2 colour. */
  interface Libde265 {
    HEAPU8: Uint8Array;
    _malloc(bytes: number): number;
    _free(pointer: number): void;
    _de265_new_decoder(): number;
    _de265_free_decoder(context: number): number;
    _de265_push_NAL(
      context: number,
      data: number,
      length: number,
      timeLow: number,
      timeHigh: number,
      user: number,
    ): number;
    _de265_flush_data(context: number): number;
    _de265_decode(context: number, more: number): number;
    _de265_get_next_picture(context: number): number;
    _de265_get_chroma_format(image: number): number;
    _de265_get_image_width(image: number, plane: number): number;
    _de265_get_image_height(image: number, plane: number): number;
    _de265_get_bits_per_pixel(image: number, plane: number): number;
    _de265_get_image_plane(image: number, plane: number, stride: number): number;
    _de265_get_image_matrix_coefficients(image: number): number;
    _de265_get_image_full_range_flag(image: number): number;
  }

  export type { Libde265 };
  export default function libheif(options: { print(): void; printErr(): void }): Libde265;
}
