#!/usr/bin/env node
import { BadUse, EXIT, type Command, type ExitCode } from './command-line.js';
import { FileProblems } from './design/load.js';
import { endWithoutTerminal } from './gone-terminal.js';
import { BeyondPlain } from '../drivers/simulated/plain-design.js';
import { endWhenUnread, leaveUnread } from './unread-output.js';
import { VERSION } from './version.js';

/** In the order of the list that is printed. Only the one that runs is loaded, for all of them take as long to load as one runs. */
const COMMANDS: Readonly<Record<string, () => Promise<Command>>> = {
  watch: async () => (await import('./commands/watch.js')).watchCommand,
  powerup: async () => (await import('./commands/powerup.js')).powerupCommand,
  design: async () => (await import('./commands/design.js')).designCommand,
  bench: async () => (await import('./commands/bench.js')).benchCommand,
  predict: async () => (await import('./commands/predict.js')).predictCommand,
  ports: async () => (await import('./commands/ports.js')).portsCommand,
  check: async () => (await import('./commands/check.js')).checkCommand,
  listen: async () => (await import('./commands/listen.js')).listenCommand,
  replay: async () => (await import('./commands/replay.js')).replayCommand,
  report: async () => (await import('./commands/report.js')).reportCommand,
  suspects: async () => (await import('./commands/suspects.js')).suspectsCommand,
  compare: async () => (await import('./commands/compare.js')).compareCommand,
  export: async () => (await import('./commands/export.js')).exportCommand,
  recordings: async () => (await import('./commands/recordings.js')).recordingsCommand,
  note: async () => (await import('./commands/note.js')).noteCommand,
  simulate: async () => (await import('./commands/simulate.js')).simulateCommand,
  demo: async () => (await import('./commands/demo.js')).demoCommand,
};
const BY_ITSELF = 'demo';
const LONGEST_END_MS = 2000;

async function overview(): Promise<string> {
  const commands = await Promise.all(Object.values(COMMANDS).map((load) => load()));
  const lines = commands.map(({ name, does }) => `  ${name.padEnd(12)}${does}`);
  return [
    'railminder: watches the first power-up of a mains-fed low-voltage supply',
    '',
    'Use: railminder [COMMAND] [--help]     with no command: the demo',
    '',
    ...lines,
    '',
    'Exit codes: 0 fine, 1 it ran and something is outside, 2 bad use or a bad file, 70 a defect of this program.',
  ].join('\n');
}

async function main(args: readonly string[]): Promise<ExitCode> {
  const [first, ...rest] = args;
  if (first === '--help' || first === '-h' || first === 'help') {
    console.log(await overview());
    return EXIT.fine;
  }
  if (first === '--version') {
    console.log(VERSION);
    return EXIT.fine;
  }
  const isNamed = first !== undefined && Object.hasOwn(COMMANDS, first);
  if (!isNamed && first !== undefined && !first.startsWith('-')) {
    throw new BadUse(`"${first}" is not a command.\n\n${await overview()}`);
  }
  const command = await COMMANDS[isNamed ? first : BY_ITSELF]!();
  const commandArgs = isNamed ? rest : args;
  if (commandArgs.includes('--help') || commandArgs.includes('-h')) {
    console.log(command.help);
    return EXIT.fine;
  }
  return command.run(commandArgs);
}

endWhenUnread();
endWithoutTerminal();
try {
  process.exitCode = await main(process.argv.slice(2));
} catch (error) {
  const isTheirs = [BadUse, FileProblems, BeyondPlain].some((kind) => error instanceof kind);
  console.error(error instanceof Error && isTheirs ? error.message : error);
  process.exitCode = isTheirs ? EXIT.badUse : EXIT.defect;
  // What a defect has left open keeps nothing running that nobody watches.
  setTimeout(() => process.exit(), LONGEST_END_MS).unref();
}
leaveUnread();
