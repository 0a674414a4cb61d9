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

/** Asks the daemon, with a body by POST. Rejects with `DeskTrouble`, also when the answer breaks off. */
export async function askDesk<T>(path: string, body?: object): Promise<T> {
  const answer = await wholeAnswer(path, body).catch(() => null);
  if (answer === null) throw new DeskTrouble('Railminder doesn’t answer. Is it still running?');
  if (!answer.ok) throw new DeskTrouble(answer.text.trim());
  return JSON.parse(answer.text) as T;
}

async function wholeAnswer(
  path: string,
  body: object | undefined,
): Promise<{ readonly ok: boolean; readonly text: string }> {
  const response = await fetch(path, requestOf(body));
  return { ok: response.ok, text: await response.text() };
}

function requestOf(body: object | undefined): RequestInit {
  if (body === undefined) return {};
  return { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) };
}
