import { BadUse } from './command-line.js';
import type { BenchOutput } from './design/bench.js';
import { isInForeground } from './foreground.js';
import { benchHooks } from './hooks/bench-hooks.js';
import type { Hook } from './hooks/hook.js';
import { hookSession } from './hooks/session-hooks.js';
import { untilInterrupted } from './interrupt.js';
import { linkLines } from './link-lines.js';
import { addressesFor } from './own-addresses.js';
import { servePage, type PageSetup } from './page.js';
import { CannotListen } from './serve/port.js';
import { NoPage } from './serve/page-files.js';
import type { RunningServer } from './serve/server.js';
import { otherWriterLine } from './other-writer.js';
import { threadedBands } from './band-source.js';
import { createSession, type Session } from './session.js';
import { startSuspectThread } from './suspects/suspect-thread.js';
import { LiveTable } from './terminal-table/live-table.js';
import { sensorLines } from './sensors/sensor-words.js';
import { attendWatch } from './terminal-keys/attend.js';
import { wrapped } from './powerup-text.js';
import { CUT_OFF_CAUTION } from './watch/cut-off-words.js';
import { watchStrays } from './stray-problems.js';
import { alarmLines, effectLines } from './terminal.js';
import { goOnUnread } from './unread-output.js';

/** A disk that hangs doesn't keep the program from ending. */
const LONGEST_CLOSE_MS = 5000;
const FAILED =
  'Something in the program failed, so it ends in order: outputs are switched off, the recording is closed. Look at the supply.';

export interface RunOptions extends PageSetup {
  /** Effects as JSON lines on standard output, everything else on standard error. */
  readonly json: boolean;
  /** Writes one line for the person; standard output, or standard error beside JSON, when left out. */
  readonly say?: (line: string) => void;
  /** Who is at the terminal; someone with keys, or who types readings, when left out. */
  readonly attend?: Attend;
  /** Whether the bench file's hooks may run: programs that run as whoever started this. */
  readonly trustHooks: boolean;
  /** Called when the page is up and the session is about to start. */
  readonly onReady?: (session: Session) => void;
}

/** Takes what a person at the terminal does, from when the session has started. */
export type Attend = (session: Session, say: (line: string) => void) => Attending;

export interface Attending {
  /** Resolves when the person wants to end the session. */
  readonly ended: Promise<void>;
  stop(): void;
}

/**
 * Runs a session with its page until the person interrupts it.
 * @returns whether the supply was beyond a limit or outside its prediction at any time
 * @throws {BadUse} when the page can't be served; what failed somewhere, once everything is closed.
 */
export async function runSession(options: RunOptions): Promise<boolean> {
  const { setup, json } = options;
  // From here on nothing ends the program but in order.
  const interrupted = untilInterrupted();
  goOnUnread();
  // One in the background would paint over what its terminal is used for.
  const isPainted = !json && options.say === undefined && process.stdout.isTTY && isInForeground();
  const table = isPainted ? new LiveTable(process.stdout) : null;
  const attend = options.attend ?? attendWatch(process.stdin, table);
  const printed = table === null ? console.log : (line: string) => table.print(wrapped(line, '').join('\n'));
  const say = options.say ?? (json ? console.error : printed);
  const bandSource = threadedBands({ design: setup.design.value, seed: 0 });
  const session = await createSession({ bandSource, startSuspects: startSuspectThread, ...setup });
  const server = await servedOrClosed(session, options);
  const strays = watchStrays((problem) => session.takeStray(problem));
  session.onStep(alarmLines(session.plan.prediction, say));
  if (json) session.onStep(effectLines(console.log));
  say(
    `Watching "${setup.design.value.design}" (${setup.load} load). The page: ${pagePlace(server, options)}`,
  );
  const { page } = options;
  const isTerminal = process.stdout.isTTY && !json;
  for (const line of linkLines({ server, page, addresses: addressesFor(page.host), isTerminal })) say(line);
  say(`Recording: ${session.file ?? 'none yet, see the page'}. Ctrl-C ends the session.`);
  const other = await otherWriter(session, setup);
  if (other !== null) say(other);
  for (const line of [...sensorLines(session.instruments), ...outputLines(session)]) say(line);
  const { design, bench, startedAt } = setup;
  const named = benchHooks(bench.value.hooks ?? []);
  const hooks = options.trustHooks ? named : [];
  const stopHooks = hookSession(session, hooks, { design: design.value.design, startedAt });
  for (const line of hookLines(named, options.trustHooks)) say(line);
  options.onReady?.(session);
  session.start();
  // A line that is being typed mustn't be painted over.
  const isTyped = session.instruments.some(({ driver }) => driver.typed !== undefined);
  if (table !== null && !isTyped) session.onStep(table.onStep);
  const attending = attended(() => attend(session, say));
  const failed = await Promise.race([
    interrupted.then(() => null),
    attending.ended.then(
      () => null,
      (problem: unknown) => ({ problem }),
    ),
    strays.nobodys.then((problem) => ({ problem })),
  ]);
  if (failed !== null) say(FAILED);
  const complete = await Promise.race([session.close(), incompleteAfter(LONGEST_CLOSE_MS)]);
  await stopHooks();
  await server.close();
  // After the recording is closed, so that nothing about a terminal can keep it from that.
  attending.stop();
  say(
    `\nSession closed. ${complete ? 'Recording' : 'Not everything could be recorded'}: ${session.file ?? 'none'}`,
  );
  strays.stop();
  if (failed !== null) throw failed.problem;
  return session.somethingOutside;
}

/** A terminal that can't be read, for it has gone away meanwhile, ends the session in order. */
function attended(attend: () => Attending): Attending {
  try {
    return attend();
  } catch (problem) {
    const cause = problem instanceof Error ? problem : new Error(String(problem));
    return { ended: Promise.reject(cause), stop: () => undefined };
  }
}

function otherWriter({ file }: Session, { design, startedAt }: PageSetup['setup']): Promise<string | null> {
  return file === null ? Promise.resolve(null) : otherWriterLine(file, design.value.design, startedAt);
}

/** For whoever sits at this machine; the links are told besides. */
function pagePlace(server: RunningServer, { page }: PageSetup): string {
  return page.keys === null ? server.address : 'open to the network, see the links';
}

function hookLines(hooks: readonly Hook[], trusted: boolean): string[] {
  return hooks.map(({ name, priority }) => {
    const when =
      priority === 'low' ? 'every alarm' : priority === 'high' ? 'high alarms' : 'high and medium alarms';
    return trusted
      ? `Hook for ${when}: ${name}`
      : `Hook for ${when} does not run: ${name}. Look at the bench file, then start with --trust-hooks.`;
  });
}

function outputLines({ outputs }: Session): string[] {
  return outputs.map(({ name, spec }) =>
    spec.armed
      ? `Output ${name} can be switched; ${droppedBy(spec)}. ${CUT_OFF_CAUTION}`
      : `Output ${name} is not armed, so nothing switches it; armed: true in the bench file arms it.`,
  );
}

function droppedBy({ cuts_off_on: on = [], cuts_off_at: at }: BenchOutput): string {
  if (on.length === 0) return 'no alarm drops it, for the bench file names none in cuts_off_on';
  const where = at === undefined ? '' : ` at ${at.join(', ')}`;
  return `once you arm it, by the page or the key c, it is dropped by ${on.join(', ')}${where}`;
}

async function incompleteAfter(delayMs: number): Promise<false> {
  await after(delayMs);
  return false;
}

function after(delayMs: number): Promise<void> {
  return new Promise((resolve) => {
    setTimeout(resolve, delayMs).unref();
  });
}

async function servedOrClosed(session: Session, options: PageSetup): Promise<RunningServer> {
  try {
    return await servePage(session, options);
  } catch (error) {
    await Promise.race([session.withdraw(), after(LONGEST_CLOSE_MS)]);
    if (error instanceof CannotListen || error instanceof NoPage) throw new BadUse(error.message);
    throw error;
  }
}
