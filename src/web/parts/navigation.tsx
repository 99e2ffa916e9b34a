// The way to other screens, in words: a row under the thumb, or a column where there is room.
//
// The row holds the first few; the rest stands in a sheet behind one word. The column holds all. Places that are asked
// for together stand together, with a thin rule between one group and the next.
import { useState } from "react";
import { Sheet } from "./sheet.tsx";
import { useWords } from "./words.tsx";

export type Place = { readonly id: string; readonly name: string; readonly href: string };

type NavigationProps = {
  readonly groups: readonly (readonly Place[])[];
  readonly here: string;
  /** Called instead of following the link, so that the page is not loaded anew. */
  readonly onGo: (place: Place) => void;
};

const inRow = 5;

export function Navigation({ groups, here, onGo }: NavigationProps) {
  const { app } = useWords();
  const [open, setOpen] = useState(false);
  const places = groups.flat();
  const leads = new Set(groups.slice(1).map(([lead]) => lead));
  const first = places.length <= inRow ? places : places.slice(0, inRow - 1);
  const rest = places.slice(first.length);
  const restIsHere = rest.some(({ id }) => id === here);
  const go = (place: Place) => {
    setOpen(false);
    onGo(place);
  };
  return (
    <nav className="navigation" aria-label={app.navigation}>
      <ul className="navigation-list">
        {first.map((place) => (
          <li key={place.id} data-leads={leads.has(place) || undefined}>
            <PlaceLink place={place} here={here} onGo={go} />
          </li>
        ))}
        {rest.map((place) => (
          <li key={place.id} className="navigation-rest" data-leads={leads.has(place) || undefined}>
            <PlaceLink place={place} here={here} onGo={go} />
          </li>
        ))}
        {rest.length > 0 && (
          <li className="navigation-more">
            <button
              type="button"
              className="navigation-word"
              aria-current={restIsHere ? "true" : undefined}
              aria-haspopup="dialog"
              onClick={() => setOpen(true)}
            >
              {app.moreScreens}
            </button>
          </li>
        )}
      </ul>
      <Sheet title={app.navigation} open={open} onClose={() => setOpen(false)}>
        <ul className="navigation-sheet">
          {rest.map((place) => (
            <li key={place.id} data-leads={leads.has(place) || undefined}>
              <PlaceLink place={place} here={here} onGo={go} />
            </li>
          ))}
        </ul>
      </Sheet>
    </nav>
  );
}

type PlaceLinkProps = { readonly place: Place; readonly here: string; readonly onGo: (place: Place) => void };

function PlaceLink({ place, here, onGo }: PlaceLinkProps) {
  return (
    <a
      className="navigation-word"
      href={place.href}
      aria-current={place.id === here ? "page" : undefined}
      onClick={(event) => {
        // With a modifier the reader wants another tab: the browser's own business.
        if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
        event.preventDefault();
        onGo(place);
      }}
    >
      {place.name}
    </a>
  );
}
