// Hospitals, landing sites and notices of the base where a machine stands: on a map and in a list, whether each is large
// enough for this type, changed in a working copy that one person proposes and another releases with every difference shown.
import { useState } from "react";
import type { Site, SiteKind } from "../../core/facts/site.ts";
import { siteKinds } from "../../core/facts/site.ts";
import type { BaseSky } from "../../core/facts/sky.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import { convert, inUnit } from "../../core/quantity/units.ts";
import { siteFit, siteSizeNeeded } from "../../core/reach/site-questions.ts";
import { sitesDiff } from "../../core/reach/sites-edit.ts";
import { readSites } from "../../core/reach/sites-geojson.ts";
import { sitesOf } from "../../core/standing/call-desk.ts";
import { halfFor, landPath } from "../../present/plots/place-map.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import "../look/call.css";
import "../look/sites.css";
import { Sheet } from "../parts/sheet.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { useWidth } from "../parts/use-width.ts";
import { Empty } from "../parts/whole-screen.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";
import { Mark, Sites } from "./call-map.tsx";
import { positionText } from "./call-view.ts";
import { Frame } from "./frame.tsx";
import { NoticeForm, Notices } from "./sites-notices.tsx";
import { SiteForm } from "./sites-form.tsx";
import { Draft, FileRow, Proposals } from "./sites-release.tsx";
import { useSitesWords } from "./use-sites-words.ts";

type Doing = { readonly is: "site"; readonly site: Site | null } | { readonly is: "notice" };

// What was changed and not proposed yet, by base, kept by the browser for this window: going to another screen and back, or a
// reload, loses nothing. It is nobody's record until it is proposed.
const copyOf = (base: string): string => `sites/${base}`;

function heldCopy(base: string): unknown {
  const text = sessionStorage.getItem(copyOf(base));
  if (text === null) return null;
  try {
    const file: unknown = JSON.parse(text);
    readSites(file);
    return file;
  } catch {
    return null;
  }
}

export function SitesScreen({ craft }: { readonly craft: CraftView }) {
  const { app } = useWords();
  const { me } = useSnapshot();
  const words = useSitesWords();
  const [doing, setDoing] = useState<Doing | null>(null);
  const base = craft.sky;
  const roles = me?.roles ?? [];
  const may = ["pilot", "crewMember", "administrator", "airworthiness"].some((role) => roles.includes(role));
  const blocked = may ? {} : { why: words.needsRole };
  const foot =
    base === null ? undefined : (
      <TwoButtons
        left={{
          children: words.add,
          note: words.addNote,
          onPress: () => setDoing({ is: "site", site: null }),
          ...blocked,
        }}
        right={{
          children: words.notice,
          note: words.noticeNote,
          onPress: () => setDoing({ is: "notice" }),
          ...blocked,
        }}
      />
    );
  return (
    <Frame
      craft={craft}
      name={`${base?.name ?? craft.name} · ${app.screens.sites}`}
      nameAs="h1"
      {...(foot === undefined ? {} : { foot })}
    >
      {base === null ? (
        <Empty title={words.noBase}>{app.screens.weather}</Empty>
      ) : (
        <Inside craft={craft} base={base} doing={doing} setDoing={setDoing} may={may} key={base.base} />
      )}
    </Frame>
  );
}

type InsideProps = {
  readonly craft: CraftView;
  readonly base: BaseSky;
  readonly doing: Doing | null;
  readonly setDoing: (doing: Doing | null) => void;
  readonly may: boolean;
};

function Inside({ craft, base, doing, setDoing, may }: InsideProps) {
  const { now_ms } = useSnapshot();
  const words = useSitesWords();
  const locale = useLocale();
  const names = useNames(craft);
  const released = base.state.sites.toSorted((a, b) => b.at_ms - a.at_ms);
  const [standing] = released;
  const before = standing?.geojson ?? null;
  const [copy, setCopy] = useState<unknown>(() => heldCopy(base.base));
  const keep = (file: unknown) => {
    const isSame = file !== null && before !== null && sitesDiff(before, file).length === 0;
    const next = isSame ? null : file;
    if (next === null) sessionStorage.removeItem(copyOf(base.base));
    else sessionStorage.setItem(copyOf(base.base), JSON.stringify(next));
    setCopy(next);
  };
  const shown = copy === null ? sitesOf(base) : readSites(copy);
  const close = () => setDoing(null);
  const d_m = craft.sheet?.type.overallLength_m ?? null;
  return (
    <div className="sites-columns">
      <div className="stack">
        {released.map(({ entry, edition, at_ms, by, proposedBy }) => (
          <p key={entry} className="small quiet">
            {words.edition(
              edition,
              timeSeenFrom(now_ms, at_ms, locale),
              names.person(by),
              names.person(proposedBy),
            )}
          </p>
        ))}
        {released.length > 1 && <p>{words.several}</p>}
        {copy !== null && <Draft base={base} before={before} copy={copy} onDone={() => keep(null)} />}
        <Proposals base={base} before={before} />
        {shown.sites.length === 0 ? (
          <Empty title={words.noFile}>{words.noFileBody}</Empty>
        ) : (
          <SitesMap base={base} shown={shown} />
        )}
        <Notices base={base} sites={shown.sites} may={may} />
      </div>
      <div className="stack">
        {d_m !== null && <Needed d_m={d_m} />}
        {siteKinds.map((kind) => (
          <SiteList
            key={kind}
            kind={kind}
            sites={shown.sites}
            d_m={d_m}
            onOpen={(site) => setDoing({ is: "site", site })}
          />
        ))}
        <FileRow file={copy ?? before} may={may} onTake={keep} />
      </div>
      <Sheet
        title={doing?.is === "site" && doing.site === null ? words.add : words.form.title}
        open={doing?.is === "site"}
        onClose={close}
      >
        {doing?.is === "site" && (
          <SiteForm
            site={doing.site}
            file={copy ?? before}
            taken={shown.sites.map(({ id }) => id)}
            d_m={d_m}
            may={may}
            onKeep={(file) => {
              keep(file);
              close();
            }}
          />
        )}
      </Sheet>
      <Sheet title={words.notice} open={doing?.is === "notice"} onClose={close}>
        {doing?.is === "notice" && <NoticeForm base={base} sites={shown.sites} onDone={close} />}
      </Sheet>
    </div>
  );
}

function Needed({ d_m }: { readonly d_m: number }) {
  const words = useSitesWords();
  const { language } = useLocale();
  const metres = (value: number) => `${displayNumber(value, 1, "higher", language)} m`;
  const [day, night] = [siteSizeNeeded(d_m, "day"), siteSizeNeeded(d_m, "night")];
  const d = `${displayNumber(d_m, 2, "higher", language)} m`;
  return (
    <p className="small quiet">
      {words.needed(d, metres(day.width_m), words.sides(metres(night.length_m), metres(night.width_m)))}
    </p>
  );
}

type SiteListProps = {
  readonly kind: SiteKind;
  readonly sites: readonly Site[];
  readonly d_m: number | null;
  readonly onOpen: (site: Site) => void;
};

function SiteList({ kind, sites, d_m, onOpen }: SiteListProps) {
  const words = useSitesWords();
  const { language } = useLocale();
  const of = sites.filter((site) => site.kind === kind);
  const number = (value: number, unit: string) => `${displayNumber(value, 0, "both", language)} ${unit}`;
  const side = (value: number) => `${displayNumber(value, 0, "lower", language)} m`;
  const detail = (site: Site): string =>
    [
      site.elevation_ft === null
        ? words.elevationOpen
        : `${number(site.elevation_ft, "ft")}, ${number(convert(inUnit(site.elevation_ft, "ft"), "ft", "m"), "m")}`,
      site.width_m === null || site.length_m === null
        ? words.sidesOpen
        : words.sides(side(site.width_m), side(site.length_m)),
      site.lit === null ? words.litOpen : site.lit ? words.lit : words.notLit,
      ...(site.fuel === null ? [] : [site.fuel ? words.fuel : words.noFuel]),
    ].join("; ");
  if (of.length === 0) return null;
  return (
    <section>
      <h2 className="heading-small">{words.kinds[kind]}</h2>
      <ul className="rows">
        {of.map((site) => (
          <li key={site.id}>
            <button type="button" className="site-row" onClick={() => onOpen(site)}>
              <b>{site.name}</b>
              <span>{detail(site)}</span>
              {site.kind === "landingSite" && (
                <span className="small quiet">{words.fits[siteFit(site, d_m)]}</span>
              )}
              <span className="small quiet mono">{positionText(site)}</span>
              {site.notes !== "" && <span className="small quiet">{site.notes}</span>}
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

type MapProps = { readonly base: BaseSky; readonly shown: ReturnType<typeof readSites> };

function SitesMap({ base, shown }: MapProps) {
  const words = useSitesWords();
  const [ref, width] = useWidth<HTMLDivElement>(340);
  const size = Math.min(width, 520);
  const frame = { middle: base, half_nm: halfFor(base, shown.sites), width, height: size };
  return (
    <div ref={ref} className="call-map">
      <svg
        role="img"
        aria-label={words.map}
        width={frame.width}
        height={frame.height}
        viewBox={`0 0 ${frame.width} ${frame.height}`}
      >
        <path className="map-land" fillRule="evenodd" d={landPath(frame, shown.land)} />
        <Sites known={shown} frame={frame} />
        <Mark frame={frame} at={base} kind="base" />
      </svg>
    </div>
  );
}
