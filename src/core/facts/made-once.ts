// What is computed once from two things that never change: a sheet and a folded record. A record that grows is another
// object, so what was kept for the old one is never met again, and the memory goes with it. Only for what depends on
// nothing else: no clock, no settings.

/** `make`, remembering for each pair of objects (by identity) what it answered. A throw is not remembered. */
export function madeOnce<First extends object, Second extends object, Made>(
  make: (first: First, second: Second) => Made,
): (first: First, second: Second) => Made {
  const kept = new WeakMap<First, WeakMap<Second, { readonly made: Made }>>();
  return (first, second) => {
    let bySecond = kept.get(first);
    if (bySecond === undefined) kept.set(first, (bySecond = new WeakMap()));
    let held = bySecond.get(second);
    if (held === undefined) bySecond.set(second, (held = { made: make(first, second) }));
    return held.made;
  };
}
