// The walk: begun, stop by stop round the drawing or in one circuit, interrupted and resumed, and signed at its end.
import { useMemo } from "react";
import type { CraftView } from "../device/model.ts";
import { useSnapshot } from "./app-context.tsx";
import { WalkBegin } from "./walk-begin.tsx";
import { WalkEnd } from "./walk-end.tsx";
import { WalkFrozen } from "./walk-frozen.tsx";
import { WalkLaunch } from "./walk-launch.tsx";
import { WalkStop } from "./walk-stop.tsx";
import { mayWalk, planUnderWay, walkUnderWay, walkView } from "./walk-view.ts";
import { WalkWatched } from "./walk-watched.tsx";

export function WalkScreen({ craft }: { readonly craft: CraftView }) {
  const { me } = useSnapshot();
  const { state, sheet, draft } = craft;
  const facts = useMemo(() => walkUnderWay({ state }), [state]);
  const plan = useMemo(
    () => (facts === null ? null : planUnderWay({ sheet, state }, facts)),
    [sheet, state, facts],
  );
  // Not of the craft as such: its standing moves with the clock, and a walk does not.
  const view = useMemo(
    () => (facts === null || plan === null ? null : walkView({ state, sheet, draft }, facts, plan, me)),
    [state, sheet, draft, facts, plan, me],
  );
  if (view === null) return <WalkBegin craft={craft} />;
  if (!mayWalk(me)) return <WalkWatched craft={craft} view={view} />;
  if (view.interrupted) return <WalkFrozen craft={craft} view={view} />;
  if (view.here === null) return <WalkEnd craft={craft} view={view} />;
  if (view.facts.kind === "launch") return <WalkLaunch craft={craft} view={view} />;
  return <WalkStop craft={craft} view={view} here={view.here} key={view.here.stop.id} />;
}
