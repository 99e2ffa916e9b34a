// Where a screen cannot be shown (a part of the app that does not come, a mistake of ours), that is said in its place: an
// empty page would look as if there were nothing to say.
import { Component } from "react";
import type { ReactNode } from "react";
import { Screen } from "./screen.tsx";
import { Failed } from "./whole-screen.tsx";

type UnbrokenProps = { readonly children: ReactNode };

export class Unbroken extends Component<UnbrokenProps, { readonly what: string | null }> {
  override state: { readonly what: string | null } = { what: null };

  static getDerivedStateFromError(error: unknown): { readonly what: string } {
    return { what: error instanceof Error ? error.message : String(error) };
  }

  override render(): ReactNode {
    const { what } = this.state;
    if (what === null) return this.props.children;
    return (
      <Screen name="Preen">
        <Failed what={what} onRetry={() => location.reload()} />
      </Screen>
    );
  }
}
