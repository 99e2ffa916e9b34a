// Makes of a picture file what may go into the record: a JPEG no longer than 1,600 px on its longer side, drawn anew, so
// that nothing that the camera wrote beside the picture (place, time, owner) goes with it.
//
// Refuses by name: a file that is no picture that this browser can draw, one beyond 25 MB (a phone would run out of
// memory unpacking it), and one that will not get small enough.
import { mostPhotoBytes } from "../../core/facts/craft.ts";
import type { PhotoRef } from "../../core/facts/craft.ts";
import { toHex } from "../../ledger/crypto.ts";
import { PhotoRefused } from "./photo-refused.ts";
import type { PhotoRefusal } from "./photo-refused.ts";

export type ScaledPhoto = { readonly ref: PhotoRef; readonly bytes: ArrayBuffer };

const mostFileBytes = 25_000_000;
const longest_px = 1_600;
const qualities = [0.82, 0.7, 0.55] as const;

export async function scalePhoto(file: File): Promise<ScaledPhoto> {
  const refuse = (why: PhotoRefusal["why"]): PhotoRefused =>
    new PhotoRefused({ why, file: file.name, found_MB: file.size / 1e6, most_MB: mostFileBytes / 1e6 });
  if (file.size === 0) throw refuse("empty");
  if (file.size > mostFileBytes) throw refuse("tooLarge");
  let bitmap: ImageBitmap;
  try {
    bitmap = await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch {
    throw refuse("notAPicture");
  }
  try {
    const share = Math.min(1, longest_px / Math.max(bitmap.width, bitmap.height));
    const width_px = Math.max(1, Math.round(bitmap.width * share));
    const height_px = Math.max(1, Math.round(bitmap.height * share));
    const canvas = new OffscreenCanvas(width_px, height_px);
    const context = canvas.getContext("2d");
    if (context === null) throw refuse("notAPicture");
    context.drawImage(bitmap, 0, 0, width_px, height_px);
    for (const quality of qualities) {
      const blob = await canvas.convertToBlob({ type: "image/jpeg", quality });
      if (blob.size > mostPhotoBytes) continue;
      const bytes = await blob.arrayBuffer();
      const hash = toHex(new Uint8Array(await crypto.subtle.digest("SHA-256", bytes)));
      return { ref: { hash, mime: "image/jpeg", bytes: blob.size, width_px, height_px }, bytes };
    }
    throw refuse("notSmallEnough");
  } finally {
    bitmap.close();
  }
}
