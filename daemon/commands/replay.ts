import { BadUse, EXIT, numberArgument, readArguments, type Command } from '../command-line.js';
import type { Prediction } from '../predict/prediction.js';
import { NotARecording } from '../record/parse.js';
import { replay, type ReplayResult } from '../record/replay.js';
import { isOutside } from '../session.js';
import { alarmLines, clockWords, effectLines } from '../terminal.js';
import type { StepListener } from '../session.js';

const USAGE = 'railminder replay RECORDING [--speed N | --fast] [--json]';

/** Plays a recording through the same core as the live session. */
export const replayCommand: Command = {
  name: 'replay',
  does: 'plays a recording again: the same verdicts and alarms at the same times',
  help: `${USAGE}

Plays RECORDING (a *.ndjson file) through the same core as when it was made, and prints its alarms.

  --speed N   N times faster than it was (default 1)
  --fast      as fast as this machine can
  --json      every effect as one line of JSON on standard output

Exit code 1 when something in it was beyond a limit or outside its prediction.`,
  async run(args) {
    const { values, positionals } = readArguments(
      args,
      USAGE,
      {
        speed: { type: 'string' },
        fast: { type: 'boolean', default: false },
        json: { type: 'boolean', default: false },
      },
      { atLeast: 1, atMost: 1 },
    );
    if (values.fast && values.speed !== undefined) throw new BadUse('give --speed or --fast, not both');
    const speed = values.fast
      ? 'fast'
      : numberArgument('speed', values.speed ?? '1', { low: 0.01, high: 100_000 });
    return play(positionals[0] ?? '', speed, values.json);
  },
};

async function play(file: string, speed: number | 'fast', json: boolean) {
  const say = json ? console.error : console.log;
  const onInterrupt = new AbortController();
  process.once('SIGINT', () => onInterrupt.abort());
  let somethingOutside = false;
  let listen: StepListener = () => undefined;
  const listenerFor = (prediction: Prediction) =>
    json ? effectLines(console.log) : alarmLines(prediction, say);
  try {
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
  } catch (error) {
    if (error instanceof NotARecording) throw new BadUse(error.message);
    throw error;
  }
  return somethingOutside ? EXIT.outside : EXIT.fine;
}

function closingWords({ events, lastAtMs, problems, mismatches, closed }: ReplayResult): string {
  const parts = [`${events} events, ${clockWords(lastAtMs)} long`];
  parts.push(closed ? 'closed properly' : 'not closed: the program or the machine stopped in the middle');
  if (problems > 0) parts.push(`${problems} damaged lines left out`);
  if (mismatches > 0) parts.push(`${mismatches} alarms came out otherwise than live`);
  return `End: ${parts.join(', ')}.`;
}
