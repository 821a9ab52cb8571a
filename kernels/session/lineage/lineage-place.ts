/** Top-level names as a piece of code uses them. */
export interface Use {
  readonly reads: Set<string>;
  /** Called or constructed by that very name; all of them are reads, too. */
  readonly calls: Set<string>;
  /** Asked for a method, or handed to a function that may call it; reads, too. */
  readonly touches: Set<string>;
  /** Assigned to, or with a property or an element that is assigned to. */
  readonly writes: Set<string>;
  /** Asked for a method that changes its own object (`push`, `sort`), or handed to one that does. */
  readonly changes: Set<string>;
}

export function emptyUse(): Use {
  return {
    reads: new Set(),
    calls: new Set(),
    touches: new Set(),
    writes: new Set(),
    changes: new Set(),
  };
}

export interface Scope {
  readonly names: ReadonlySet<string>;
  readonly outer: Scope | null;
}

/** Where a piece of code stands as its names are looked at. */
export interface Place {
  /** Null at the top level of the cell. */
  readonly scope: Scope | null;
  readonly sink: Use;
  /** In the place of the value that is being named. */
  readonly isValue: boolean;
  /** Within an argument of a call. */
  readonly isArgument: boolean;
}

/** Within an expression: no longer the value itself. */
export function inner(place: Place): Place {
  return place.isValue || place.isArgument
    ? { ...place, isValue: false, isArgument: false }
    : place;
}

/** Where these names are bound, too. */
export function scoped(place: Place, names: ReadonlySet<string>): Place {
  return { ...place, scope: { names, outer: place.scope } };
}

/** Whether a name is one of the scopes', not the top level's. */
export function isBound(name: string, scope: Scope | null): boolean {
  for (let at = scope; at !== null; at = at.outer) if (at.names.has(name)) return true;
  return false;
}
