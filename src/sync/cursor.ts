// Cursors and marks: where in the server's order a device stands. Opaque to the device, so all knowledge of them is
// here. Text: epoch, position, and the session of the server in which that position was written, joined by dots.
//
// The session makes a restored server find out by itself. Each start of the server begins a session with a name drawn
// by chance, and the server remembers from which position each began. A position that was written after the backup has
// another session after the restoration (or none), so a mark that does not agree proves that something is gone. Whatever
// a device believes about the server came with a mark, so a server restored twice from one backup, which uses the same
// epoch number twice, is found out as well.

/** A whole number from 1; higher after each restoration that was found out. */
export type Epoch = number;
/** `from`: the position before the first one that was written in it. In order, oldest first. */
export type Session = { readonly name: string; readonly from: number };
export type Cursor = { readonly epoch: Epoch; readonly position: number; readonly session: string };

/** Beyond any real number of restorations; keeps a mad or hostile cursor from driving the epoch up without end. */
const mostEpochs = 1_000_000;
/** Stands for the session of position 0, which nobody wrote. */
const noSession = "00000000";

export function cursorText(epoch: Epoch, position: number, sessions: readonly Session[]): string {
  return `${epoch}.${position}.${sessionOf(position, sessions)}`;
}

/** Null when the text is no cursor of ours. */
export function cursorFrom(text: string): Cursor | null {
  const match = /^(\d{1,9})\.(\d{1,15})\.([0-9a-f]{8})$/u.exec(text);
  if (match === null || Number(match[1]) > mostEpochs) return null;
  return { epoch: Number(match[1]), position: Number(match[2]), session: match[3]! };
}

export function sessionOf(position: number, sessions: readonly Session[]): string {
  return sessions.findLast(({ from }) => from < position)?.name ?? noSession;
}
