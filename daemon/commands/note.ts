import { readFile } from 'node:fs/promises';
import { WebSocket } from 'ws';
import { BadUse, EXIT, numberArgument, readArguments, type Command } from '../command-line.js';
import { plainJson } from '../design/obeyed-signs.js';
import { errorCode } from '../record/disk.js';
import { ENTER_PATH } from '../serve/enter.js';
import { isKey } from '../serve/keys.js';
import { USUAL_PORT } from '../serve/port.js';
import type { DaemonMessage, PageMessage } from '../serve/messages.js';
import { clockWords } from '../watch/clock-words.js';
import type { NotePhoto } from '../watch/events.js';

const USAGE = 'railminder note TEXT [--photo FILE] [--port N]';
const LONGEST_PHOTO_BYTES = 2 * 1024 * 1024;
const ANSWER_WITHIN_MS = 5000;
const CURE = 'give the port of its page';

/** Writes a note into the running session, from another terminal. */
export const noteCommand: Command = {
  name: 'note',
  does: 'writes a note, perhaps with a photo, into the session that is running',
  help: `${USAGE}

Writes TEXT into the recording of the session that runs on this machine, with the time.

  --photo FILE   a JPEG or PNG picture of at most 2 MB that goes with it
  --port N       the port of the session's page (default ${USUAL_PORT})

A session that is open to the network asks for a key: set RAILMINDER_LINK to the first link that it printed.

What stands in a recording stays there: leave out what nobody else should read.`,
  async run(args) {
    const options = { photo: { type: 'string' }, port: { type: 'string' } } as const;
    const { values, positionals } = readArguments(args, USAGE, options, { atLeast: 1, atMost: 1 });
    const text = positionals[0]?.trim() ?? '';
    if (text === '') throw new BadUse(`the note is empty\nUse: ${USAGE}`);
    const photo = values.photo === undefined ? {} : { photo: await readPhoto(values.photo) };
    const port = numberArgument('port', values.port ?? String(USUAL_PORT), { low: 1, high: 65_535 });
    const place = placeOf(process.env['RAILMINDER_LINK'], port);
    const session = await sendNote(place, { kind: 'note', text, ...photo });
    console.log(`Noted in "${session.design}" at ${clockWords(session.nowMs)}.`);
    return EXIT.fine;
  },
};

/** @throws {BadUse} when it isn't a picture that a recording takes. */
async function readPhoto(file: string): Promise<NotePhoto> {
  const bytes = await readFile(file).catch((error: unknown) => {
    throw new BadUse(`--photo ${file}: it can't be read (${errorCode(error)}); name a JPEG or PNG file`);
  });
  if (bytes.length > LONGEST_PHOTO_BYTES) {
    throw new BadUse(`--photo ${file}: found ${bytes.length} bytes; at most 2 MB are taken, make it smaller`);
  }
  const type = pictureType(bytes);
  if (type === null) throw new BadUse(`--photo ${file}: it is no JPEG or PNG picture; save it as one`);
  return { type, base64: bytes.toString('base64') };
}

/** By the first bytes: ITU-T T.81 (start of image), PNG specification section 5.2. */
function pictureType(bytes: Buffer): NotePhoto['type'] | null {
  if (bytes.subarray(0, 3).equals(Buffer.from([0xff, 0xd8, 0xff]))) return 'image/jpeg';
  return bytes.subarray(0, 8).equals(Buffer.from('\x89PNG\r\n\x1a\n', 'latin1')) ? 'image/png' : null;
}

/** Where a session listens. */
interface Place {
  /** For messages; without a key. */
  readonly named: string;
  readonly address: string;
  readonly headers: Readonly<Record<string, string>>;
}

/** @throws {BadUse} when the link isn't one. */
function placeOf(link: string | undefined, port: number): Place {
  if (link === undefined)
    return { named: `--port ${port}`, address: `ws://127.0.0.1:${port}/live`, headers: {} };
  const url = URL.canParse(link) ? new URL(link) : null;
  const key = url?.pathname.startsWith(ENTER_PATH) === true ? url.pathname.slice(ENTER_PATH.length) : '';
  if (url === null || !isKey(key) || !/^https?:$/.test(url.protocol)) {
    throw new BadUse(
      'RAILMINDER_LINK: it is no link of a session; copy the first one that the session printed',
    );
  }
  const scheme = url.protocol === 'https:' ? 'wss' : 'ws';
  const headers = { Authorization: `Bearer ${key}` };
  return { named: `RAILMINDER_LINK ${url.host}`, address: `${scheme}://${url.host}/live`, headers };
}

type SessionView = Extract<DaemonMessage, { kind: 'snapshot' }>['session'];

/**
 * Joins the session as a page does. Its messages are taken in order: a snapshot asked for behind the note says that
 * the note was taken.
 */
function sendNote(
  { named, address, headers }: Place,
  note: Extract<PageMessage, { kind: 'note' }>,
): Promise<SessionView> {
  const socket = new WebSocket(address, { handshakeTimeout: ANSWER_WITHIN_MS, headers });
  return new Promise<SessionView>((resolve, reject) => {
    const timer = setTimeout(
      () => reject(new BadUse(`${named}: no answer from the session there`)),
      ANSWER_WITHIN_MS,
    );
    let sent = false;
    socket.on('message', (data: Buffer) => {
      const message = messageIn(data);
      if (message === null) return reject(new BadUse(`${named}: another program answers there; ${CURE}`));
      if (message.kind === 'refused') reject(new BadUse(`the note was not taken: ${message.why}`));
      if (message.kind !== 'snapshot') return;
      if (sent) return resolve(message.session);
      sent = true;
      socket.send(JSON.stringify(note));
      socket.send(JSON.stringify({ kind: 'snapshot' } satisfies PageMessage));
    });
    socket.on('unexpected-response', (_, { statusCode }) => {
      const why =
        statusCode === 401
          ? 'it is open to the network and asks for a key; set RAILMINDER_LINK to the first link that it printed'
          : `it answers ${statusCode ?? 'nothing'}; is it a session of ours?`;
      reject(new BadUse(`${named}: ${why}`));
      socket.terminate();
    });
    socket.on('error', (error) => {
      reject(new BadUse(`${named}: no session answers there (${errorCode(error)}); start one, or ${CURE}`));
    });
    socket.on('close', () => {
      clearTimeout(timer);
      reject(new BadUse(`${named}: the session ended before it took the note`));
    });
  }).finally(() => {
    // A polite goodbye would wait for one that no longer listens.
    socket.terminate();
  });
}

/** Null when it is no message of a session. */
function messageIn(data: Buffer): DaemonMessage | null {
  try {
    const found = plainJson(data.toString('utf8'));
    const isOurs = typeof found === 'object' && found !== null && 'kind' in found;
    return isOurs ? (found as DaemonMessage) : null;
  } catch {
    return null;
  }
}
