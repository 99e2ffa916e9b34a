// Photos of a finding: taken with the camera or chosen as a file, scaled on this device, shown small. A file that cannot
// be taken is refused by its name.
import { useEffect, useId, useState } from "react";
import type { PhotoRef } from "../../core/facts/craft.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import { PhotoRefused } from "../device/photo-refused.ts";
import { Button } from "../parts/button.tsx";
import { FieldIssue } from "../parts/field.tsx";
import { Photo } from "../parts/photo.tsx";
import { useLocale } from "../parts/words.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { useFindingsWords } from "./use-findings-words.ts";

const mostPhotos = 8;

type PhotosTakenProps = {
  readonly photos: readonly PhotoRef[];
  readonly onPhotos: (photos: readonly PhotoRef[]) => void;
};

export function PhotosTaken({ photos, onPhotos }: PhotosTakenProps) {
  const { device } = useApp();
  const words = useFindingsWords();
  const { language } = useLocale();
  const [working, setWorking] = useState(false);
  const [refused, setRefused] = useState<string | null>(null);
  const issueId = useId();
  const take = async (files: readonly File[]) => {
    const [file] = files;
    if (file === undefined) return;
    if (photos.length >= mostPhotos) {
      setRefused(words.capture.mostPhotos(mostPhotos));
      return;
    }
    setWorking(true);
    setRefused(null);
    try {
      const taken = await device.keepPhoto(file);
      if (!photos.some(({ hash }) => hash === taken.hash)) onPhotos([...photos, taken]);
    } catch (error) {
      if (!(error instanceof PhotoRefused)) throw error;
      const { why, file: name, found_MB, most_MB } = error.refusal;
      const megabytes = (value: number) => displayNumber(value, 1, "higher", language);
      setRefused(
        why === "tooLarge"
          ? words.issue.tooLarge(name, megabytes(found_MB), displayNumber(most_MB, 0, "lower", language))
          : words.issue[why](name),
      );
    } finally {
      setWorking(false);
    }
  };
  return (
    <section className="stack">
      <div className="photo-ways">
        <FileButton name={words.capture.camera} capture onFiles={(files) => void take(files)} />
        <FileButton name={words.capture.file} onFiles={(files) => void take(files)} />
      </div>
      <output className="small quiet">
        {working ? words.capture.photoWorking : photos.length > 0 ? words.capture.photoKept : null}
      </output>
      <FieldIssue id={issueId} issue={refused} />
      {photos.length > 0 && (
        <ul className="photo-row">
          {photos.map(({ hash }, index) => (
            <li key={hash}>
              <KeptPhoto hash={hash} says={words.capture.photoOf(index + 1)} />
              <Button look="plain" onPress={() => onPhotos(photos.filter((photo) => photo.hash !== hash))}>
                {words.capture.dropPhoto(index + 1)}
              </Button>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

type FileButtonProps = {
  readonly name: string;
  readonly capture?: boolean;
  readonly onFiles: (files: readonly File[]) => void;
};

/** A native file input under a face of ours: what opens it is the browser's own. */
function FileButton({ name, capture = false, onFiles }: FileButtonProps) {
  return (
    <label className="button photo-way">
      <input
        type="file"
        accept="image/*"
        {...(capture ? { capture: "environment" as const } : {})}
        className="hidden-but-said"
        onChange={({ target }) => {
          onFiles([...(target.files ?? [])]);
          // The same file may be chosen again after it was refused.
          target.value = "";
        }}
      />
      <span>{name}</span>
    </label>
  );
}

/** A photo that the record names: from this device, else from the server. */
export function KeptPhoto({ hash, says }: { readonly hash: string; readonly says: string }) {
  const { device } = useApp();
  const words = useFindingsWords();
  const [src, setSrc] = useState<string | null | undefined>();
  // The record may come to say so while the photo is being looked at.
  useSnapshot();
  const isErased = device.isPhotoErased(hash);
  useEffect(() => {
    let isHere = true;
    void device.photoUrl(hash).then((url) => {
      if (isHere) setSrc(url);
    });
    return () => {
      isHere = false;
    };
  }, [device, hash]);
  if (isErased) return <p className="small quiet">{words.capture.photoErased}</p>;
  if (src === undefined) return null;
  return src === null ? (
    <p className="small quiet">{words.capture.photoGone}</p>
  ) : (
    <Photo src={src} says={says} />
  );
}
