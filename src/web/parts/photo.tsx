// A photograph, shown in the light that the screen is set to: in red and goggles only that one colour of it is left.

type PhotoProps = { readonly src: string; readonly says: string };

export function Photo({ src, says }: PhotoProps) {
  return (
    <div className="photo">
      <img src={src} alt={says} loading="lazy" decoding="async" />
    </div>
  );
}
