import type {
  BeginRequest,
  Begun,
  DesignPreview,
  OpenedDesign,
  PreviewRequest,
  RailRequest,
  SaveRequest,
  Saved,
} from '../../daemon/serve/design-messages.js';

/** The daemon couldn't answer; the message is for a person. */
export class DeskTrouble extends Error {
  override readonly name = 'DeskTrouble';
}

/** What the daemon answers about designs. Each rejects with `DeskTrouble`. */
export const deskLink = {
  open: (): Promise<OpenedDesign> => askDesk('/design/open'),
  preview: (request: PreviewRequest): Promise<DesignPreview> => askDesk('/design/preview', request),
  begin: (request: BeginRequest): Promise<Begun> => askDesk('/design/begin', request),
  rail: (request: RailRequest): Promise<Begun> => askDesk('/design/rail', request),
  save: (request: SaveRequest): Promise<Saved> => askDesk('/design/save', request),
};

export type DeskLink = typeof deskLink;

/** Asks the daemon, with a body by POST. Rejects with `DeskTrouble`. */
export async function askDesk<T>(path: string, body?: object): Promise<T> {
  const response = await fetch(path, requestOf(body)).catch(() => null);
  if (response === null) throw new DeskTrouble('Railminder doesn’t answer. Is it still running?');
  if (!response.ok) throw new DeskTrouble((await response.text()).trim());
  return (await response.json()) as T;
}

function requestOf(body: object | undefined): RequestInit {
  if (body === undefined) return {};
  return { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) };
}
