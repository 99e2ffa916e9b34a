// Why a picture file was not taken: thrown by the device, said by the screens by the file's name.
export type PhotoRefusal = {
  readonly why: "notAPicture" | "tooLarge" | "notSmallEnough" | "empty";
  readonly file: string;
  readonly found_MB: number;
  readonly most_MB: number;
};

export class PhotoRefused extends Error {
  override readonly name = "PhotoRefused";
  readonly refusal: PhotoRefusal;
  constructor(refusal: PhotoRefusal) {
    super(`${refusal.file}: ${refusal.why}`);
    this.refusal = refusal;
  }
}
