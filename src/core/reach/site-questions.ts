// The places of a call as sites: notices that touch the time of the call, and what to ask about size and lighting.
//
// Size of a site: by day twice the craft's overall length with rotors turning (2 D) each way; by night 4 D long and 2 D
// wide for a place that nobody surveyed (AMC1 SPA.HEMS.125(b)(4), operating site; from memory). The sheet's D counts. A
// hospital's or base's own pad is judged by who approved it. Whether an unsurveyed scene is large enough its commander
// judges on arrival: it is asked, never assumed. Notices: closed blocks; restricted is not known until somebody who may
// says otherwise, and so is unlit, by day as well; caution and no fuel are told.
import { geodesicBetween } from "../air/geodesic.ts";
import type { Site, SiteNotice } from "../facts/site.ts";
import { minute_ms } from "../facts/instant.ts";
import { atLeast } from "../quantity/compare.ts";
import { convert } from "../quantity/units.ts";
import type { AboutSite, Call, CallAnswer, CallKnown, CallPlace, Margin, SiteSides } from "./call.ts";
import { isBroken, marginOf, notKnown } from "./call-margin.ts";
import type { Route } from "./call-route.ts";

/** What a landing site must measure, in metres: width and length. */
export function siteSizeNeeded(d_m: number, light: "day" | "night"): SiteSides {
  return { width_m: 2 * d_m, length_m: light === "day" ? 2 * d_m : 4 * d_m };
}

/** Both sides against what is needed; null where a side is not known. */
export function isLargeEnough(
  { width_m, length_m }: Pick<Site, "width_m" | "length_m">,
  needed: SiteSides,
): boolean | null {
  if (width_m === null || length_m === null) return null;
  return atLeast(width_m, needed.width_m) && atLeast(length_m, needed.length_m);
}

/** Whether a site is large enough for a craft of this D, by day and by night; a pad that somebody approved is theirs to judge. */
export function siteFit(
  site: Pick<Site, "kind" | "width_m" | "length_m">,
  d_m: number | null,
): "approved" | "open" | "both" | "day" | "none" {
  if (site.kind !== "landingSite") return "approved";
  if (d_m === null) return "open";
  const day = isLargeEnough(site, siteSizeNeeded(d_m, "day"));
  const night = isLargeEnough(site, siteSizeNeeded(d_m, "night"));
  if (day === null || night === null) return "open";
  return night ? "both" : day ? "day" : "none";
}

function siteOf({ sites }: Pick<CallKnown, "sites">, place: CallPlace): Site | null {
  return sites.find(({ id }) => id === place.site) ?? null;
}

export function aboutSites(
  known: CallKnown,
  call: Call,
  lights: readonly ("day" | "night" | null)[],
): readonly AboutSite[] {
  const d_m = known.sheet.type.overallLength_m;
  return call.stops.flatMap(({ place, role, engines }, stop): AboutSite[] => {
    // In a hover nothing is landed on.
    if (engines === "hover") return [];
    const light = lights[stop + 1] ?? "night";
    const site = siteOf(known, place);
    const isApproved =
      site?.kind === "hospital" || site?.kind === "base" || (site === null && role === "base");
    const needed = siteSizeNeeded(d_m, light);
    const asked: AboutSite[] = [];
    if (!isApproved) {
      const fits = site === null ? null : isLargeEnough(site, needed);
      if (fits === null) asked.push({ ask: "sizeNotKnown", stop, needed_m: needed });
      else if (!fits) asked.push({ ask: "tooSmall", stop, needed_m: needed });
    }
    if (light === "night" && site !== null && site.lit !== true)
      asked.push({ ask: site.lit === false ? "notLit" : "lightingNotKnown", stop, needed_m: null });
    return asked;
  });
}

/** Whether a notice speaks of a place. */
export function isAbout({ about }: Pick<SiteNotice, "about">, place: CallPlace): boolean {
  if ("site" in about) return about.site === place.site;
  return convert(geodesicBetween(about, place).distance, "m", "nm") <= about.radius_nm;
}

export function noticeMargins({ notices }: CallKnown, call: Call, route: Route): readonly Margin[] {
  const standing = notices.filter(({ lifted, kind }) => !lifted && kind !== "caution" && kind !== "noFuel");
  return call.stops.flatMap(({ place }, stop) => {
    const { arrive_ms, leave_ms } = route.stops[stop]!;
    const until_ms = stop === call.stops.length - 1 ? arrive_ms : leave_ms;
    return standing
      .filter((notice) => isAbout(notice, place))
      .flatMap((notice): Margin[] => {
        const what = notice.notice;
        if (!Number.isFinite(arrive_ms)) return [{ ...notKnown("notice", what), stop }];
        if ((notice.until_ms ?? Number.POSITIVE_INFINITY) <= arrive_ms) return [];
        if (notice.from_ms > until_ms) {
          const room = (notice.from_ms - until_ms) / minute_ms;
          const minutes = Math.max((route.ends_ms - call.depart_ms) / minute_ms, 1);
          return [{ ...marginOf("notice", room, "min", null, null, minutes), stop, what }];
        }
        if (notice.kind === "closed") return [{ ...isBroken("notice"), stop, what }];
        return [{ ...notKnown("notice", what), stop }];
      });
  });
}

export type NoticeAtStop = { readonly stop: number; readonly notice: SiteNotice };

/**
 * Every notice that speaks of a stop of an answered call while the craft is there, of whatever kind: what forbids is a margin
 * as well, a caution or that there is no fuel is told here alone. Where the times are not known, all that stand.
 */
export function noticesAtStops(
  { notices }: Pick<CallKnown, "notices">,
  { call, stops }: CallAnswer,
): readonly NoticeAtStop[] {
  return call.stops.flatMap(({ place }, stop) => {
    const { arrive_ms, leave_ms } = stops[stop + 1] ?? { arrive_ms: null, leave_ms: null };
    const [from_ms, to_ms] = [
      arrive_ms ?? Number.NEGATIVE_INFINITY,
      leave_ms ?? arrive_ms ?? Number.POSITIVE_INFINITY,
    ];
    return notices
      .filter((notice) => !notice.lifted && isAbout(notice, place))
      .filter((notice) => notice.from_ms <= to_ms && (notice.until_ms ?? Number.POSITIVE_INFINITY) > from_ms)
      .map((notice) => ({ stop, notice }));
  });
}
