import { BadUse, EXIT, numberArgument, readArguments, type Command, type ExitCode } from '../command-line.js';
import type { Prediction } from '../predict/prediction.js';
import { openStates } from '../record/index/saved-states.js';
import { openPlayer } from '../record/player.js';
import { replay, type ReplayResult } from '../record/replay.js';
import { isOutside } from '../outside-effect.js';
import type { StepListener } from '../session.js';
import { alarmLines, effectLines } from '../terminal.js';
import { clockWords } from '../watch/clock-words.js';
import { VERSION } from '../version.js';
import { isAtKeys, playWithKeys } from './play-with-keys.js';
import { withRecording } from './recording-problems.js';
import { replayAgainst } from './replay-against.js';
import { timeArgument } from './time-argument.js';

const SOFTWARE = `railminder ${VERSION}`;
const USAGE = 'railminder replay RECORDING [--speed N | --fast] [--from TIME] [--against DESIGN] [--json]';

/** Plays a recording through the same core as the live session. */
export const replayCommand: Command = {
  name: 'replay',
  does: 'plays a recording again: the same verdicts and alarms at the same times',
  help: `${USAGE}

Plays RECORDING (*.ndjson or *.ndjson.gz) through the same core as when it was made, and prints its alarms.

  --speed N          N times faster than it was (default 1)
  --fast             as fast as this machine can
  --from TIME        begins there, 90 (seconds), 1:30 or 1:02:05, with the state that held then
  --against DESIGN   judges the session by DESIGN instead and says what comes out otherwise
  --json             every effect as one line of JSON on standard output

At a terminal, space pauses and goes on, the arrow keys go 10 seconds back and on, q ends it.
Exit code 1 when something in it was beyond a limit or outside its prediction.`,
  async run(args) {
    const { values, positionals } = readArguments(
      args,
      USAGE,
      {
        speed: { type: 'string' },
        fast: { type: 'boolean', default: false },
        from: { type: 'string' },
        against: { type: 'string' },
        json: { type: 'boolean', default: false },
      },
      { atLeast: 1, atMost: 1 },
    );
    if (values.fast && values.speed !== undefined) throw new BadUse('give --speed or --fast, not both');
    const file = positionals[0] ?? '';
    const { against } = values;
    if (against !== undefined) return withRecording(() => replayAgainst(file, against));
    const speed = values.fast
      ? 'fast'
      : numberArgument('speed', values.speed ?? '1', { low: 0.01, high: 100_000 });
    const fromMs = timeArgument('from', values.from ?? '0');
    const hasKeys = isAtKeys() && speed !== 'fast';
    return withRecording(() =>
      hasKeys || fromMs > 0 ? playFrom(file, fromMs, speed, values.json) : play(file, speed, values.json),
    );
  },
};

async function playFrom(
  file: string,
  fromMs: number,
  speed: number | 'fast',
  json: boolean,
): Promise<ExitCode> {
  const say = json ? console.error : console.log;
  const player = await openPlayer(file);
  const states = await openStates(file, player.header, SOFTWARE);
  player.takeCheckpoints(states.checkpoints);
  const known = player.checkpoints.length;
  const { design, startedAt, plan } = player.header;
  say(`Session of ${startedAt}, ${design.file}`);
  const told = json ? effectLines(console.log) : alarmLines(plan.prediction, say);
  let somethingOutside = false;
  const listener: StepListener = (event, state, effects) => {
    somethingOutside ||= effects.some(isOutside);
    told(event, state, effects);
  };
  await player.seek(fromMs > 0 ? fromMs : -1);
  for (const { id, active } of player.state.alarms) if (active) say(`${clockWords(fromMs)}  standing: ${id}`);
  await playWithKeys(player, { speed: speed === 'fast' ? Infinity : speed, listener, say });
  await player.close();
  if (player.checkpoints.length > known) await states.save(player.checkpoints);
  return somethingOutside ? EXIT.outside : EXIT.fine;
}

async function play(file: string, speed: number | 'fast', json: boolean): Promise<ExitCode> {
  const say = json ? console.error : console.log;
  const onInterrupt = new AbortController();
  process.once('SIGINT', () => onInterrupt.abort());
  let somethingOutside = false;
  let listen: StepListener = () => undefined;
  const listenerFor = (prediction: Prediction) =>
    json ? effectLines(console.log) : alarmLines(prediction, say);
  const result = await replay(file, {
    speed,
    signal: onInterrupt.signal,
    onHeader: ({ plan, startedAt, design }) => {
      say(`Session of ${startedAt}, ${design.file}`);
      listen = listenerFor(plan.prediction);
    },
    onEvent: (event, state, effects) => {
      somethingOutside ||= effects.some(isOutside);
      listen(event, state, effects);
    },
    onProblem: ({ why }) => say(why),
  });
  say(closingWords(result));
  return somethingOutside ? EXIT.outside : EXIT.fine;
}

function closingWords({ events, lastAtMs, problems, mismatches, closed }: ReplayResult): string {
  const parts = [`${events} events, ${clockWords(lastAtMs)} long`];
  parts.push(closed ? 'closed properly' : 'not closed: the program or the machine stopped in the middle');
  if (problems > 0) parts.push(`${problems} damaged places`);
  if (mismatches > 0) parts.push(`${mismatches} alarms came out otherwise than live`);
  return `End: ${parts.join(', ')}.`;
}
