// Photos of findings on this device.
import type { PhotoRef } from "../../core/facts/craft.ts";
import type { DeviceCore } from "./device-core.ts";
import type { Photos } from "./photos.ts";

export class PhotoActions {
  readonly #core: DeviceCore;
  #photos: Promise<Photos> | null = null;

  constructor(core: DeviceCore) {
    this.#core = core;
  }

  /** Opened with the first photo that is taken or looked at: the first screen needs none. */
  async #photoBook(): Promise<Photos> {
    this.#photos ??= import("./photos.ts").then(({ Photos: book }) => book.open());
    return this.#photos;
  }

  readonly keepPhoto = async (file: File): Promise<PhotoRef> => {
    const [{ scalePhoto }, photos] = await Promise.all([import("./scale-photo.ts"), this.#photoBook()]);
    const scaled = await scalePhoto(file);
    await photos.keep(scaled);
    return scaled.ref;
  };

  readonly photoUrl = async (hash: string): Promise<string | null> => {
    return (await this.#photoBook()).url(hash, this.#core.session?.enrolment.token ?? null);
  };

  /** Hands over the photos that entries of this device's record name; others were taken and left out. */
  async sendPhotos(): Promise<void> {
    const token = this.#core.session?.enrolment.token;
    if (token === undefined) return;
    const named = new Set(
      this.#core.shown.craft.flatMap(({ state }) =>
        Object.values(state.findings).flatMap(({ raised, seenAgain, measured }) =>
          [raised, ...seenAgain, ...measured].flatMap(({ photos }) => photos.map(({ hash }) => hash)),
        ),
      ),
    );
    if (named.size > 0) await (await this.#photoBook()).send(token, named);
  }
}
