/** What was found of the machine. Null where the system doesn't tell. */
export interface MachineFacts {
  readonly system: NodeJS.Platform;
  readonly node: string;
  readonly user: string;
  readonly ports: readonly PortFacts[];
  readonly recordings: FolderFacts;
  /** The port of the page: what the system says against listening there; null: nothing. */
  readonly pagePort: { readonly port: number; readonly trouble: string | null };
  readonly hasPage: boolean;
  /** The system's wall clock, and whether it is kept right by another one. */
  readonly clock: { readonly now: Date; readonly isKept: boolean | null };
}

/** A place where an instrument can be joined. */
export interface PortFacts {
  readonly path: string;
  readonly kind: 'serial' | 'usbtmc';
  /** `vendor:product` in hex. */
  readonly usb: string | null;
  readonly mayUse: boolean;
  /** Name of the group that owns it. */
  readonly group: string | null;
}

export interface FolderFacts {
  readonly path: string;
  /** What the system says against writing there; null: nothing. */
  readonly trouble: string | null;
  readonly freeBytes: number | null;
}
