// Photos of findings on this device.
import type { PhotoRef } from "../../core/facts/craft.ts";
import type { DeviceCore } from "./device-core.ts";
import type { Photos } from "./photos.ts";

export class PhotoActions {
  readonly #core: DeviceCore;
  /** Erased ones that are gone from this device's disk. */
  readonly #swept = new Set<string>();
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

  readonly isPhotoErased = (hash: string): boolean => this.#core.book.erasedPhotos().has(hash);

  readonly photoUrl = async (hash: string): Promise<string | null> => {
    if (this.isPhotoErased(hash)) return null;
    return (await this.#photoBook()).url(hash, this.#core.session?.enrolment.token ?? null);
  };

  /** The bytes of those that are on this device; nothing is fetched. */
  async held(hashes: readonly string[]): Promise<ReadonlyMap<string, Uint8Array>> {
    const wanted = hashes.filter((hash) => !this.isPhotoErased(hash));
    return wanted.length === 0 ? new Map() : (await this.#photoBook()).held(wanted);
  }

  /** What was erased by right must not live on here. */
  async #sweep(): Promise<ReadonlySet<string>> {
    const erased = this.#core.book.erasedPhotos();
    const fresh = [...erased].filter((hash) => !this.#swept.has(hash));
    if (fresh.length > 0) await (await this.#photoBook()).erase(fresh);
    for (const hash of fresh) this.#swept.add(hash);
    return erased;
  }

  /**
   * Hands over the photos that entries of this device's record name; others were taken and left out. Removes those that
   * were erased meanwhile.
   */
  async sendPhotos(): Promise<void> {
    const erased = await this.#sweep();
    const token = this.#core.session?.enrolment.token;
    if (token === undefined) return;
    const named = new Set(
      this.#core.shown.craft.flatMap(({ state }) =>
        Object.values(state.findings).flatMap(({ raised, seenAgain, measured }) =>
          [raised, ...seenAgain, ...measured].flatMap(({ photos }) => photos.map(({ hash }) => hash)),
        ),
      ),
    ).difference(erased);
    if (named.size > 0) await (await this.#photoBook()).send(token, named);
  }
}
