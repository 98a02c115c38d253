/** The part of libheif's interface for JavaScript that is used here; the package declares other parts. */
export interface HeifLibrary {
  heif_context_alloc(): object;
  heif_context_free(context: object): void;
  heif_context_read_from_memory(context: object, bytes: Uint8Array): HeifCode;
  heif_js_context_get_primary_image_handle(context: object): HeifCode;
  heif_image_handle_release(handle: object): void;
  heif_image_release(image: object): void;
  heif_js_decode_image2(handle: object, space: object, chroma: object): Promise<HeifPicture> | HeifPicture;
  readonly heif_colorspace: { readonly heif_colorspace_RGB: object };
  readonly heif_chroma: { readonly heif_chroma_interleaved_RGBA: object };
}

/** A result has a code if it failed. */
export interface HeifCode {
  readonly code?: { readonly value: number };
  readonly message?: string;
}

export interface HeifPicture extends HeifCode {
  readonly image: object;
  readonly channels: readonly [HeifChannels];
}

interface HeifChannels {
  readonly width: number;
  readonly height: number;
  /** Bytes from row to row. */
  readonly stride: number;
  /** In the memory of the library: valid until the next call. */
  readonly data: Uint8Array;
}

/** By its name in a variable, so that a bundle does not take it in: it may be missing. */
const PACKAGE: string = "libheif-js/libheif-wasm/libheif-bundle.js";

/**
 * Load the decoder of HEIC, an optional package. Each call gets an instance of its own: a hostile file can break it, and its memory
 * never shrinks. Rejects if the package is not installed.
 */
export async function loadHeif(): Promise<HeifLibrary> {
  const loaded: { readonly default: () => HeifLibrary } = await import(PACKAGE);
  return loaded.default();
}
