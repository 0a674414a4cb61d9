#!/usr/bin/env node
import { BadUse, EXIT, type Command, type ExitCode } from './command-line.js';
import { benchCommand } from './commands/bench.js';
import { checkCommand } from './commands/check.js';
import { demoCommand } from './commands/demo.js';
import { designCommand } from './commands/design.js';
import { powerupCommand } from './commands/powerup.js';
import { portsCommand } from './commands/ports.js';
import { predictCommand } from './commands/predict.js';
import { replayCommand } from './commands/replay.js';
import { compareCommand } from './commands/compare.js';
import { exportCommand } from './commands/export.js';
import { listenCommand } from './commands/listen.js';
import { noteCommand } from './commands/note.js';
import { recordingsCommand } from './commands/recordings.js';
import { reportCommand } from './commands/report.js';
import { suspectsCommand } from './commands/suspects.js';
import { simulateCommand } from './commands/simulate.js';
import { watchCommand } from './commands/watch.js';
import { FileProblems } from './design/load.js';
import { BeyondPlain } from '../drivers/simulated/plain-design.js';
import { endWhenUnread } from './unread-output.js';
import { VERSION } from './version.js';

const COMMANDS: readonly Command[] = [
  watchCommand,
  powerupCommand,
  designCommand,
  benchCommand,
  predictCommand,
  portsCommand,
  checkCommand,
  listenCommand,
  replayCommand,
  reportCommand,
  suspectsCommand,
  compareCommand,
  exportCommand,
  recordingsCommand,
  noteCommand,
  simulateCommand,
  demoCommand,
];

function overview(): string {
  const lines = COMMANDS.map(({ name, does }) => `  ${name.padEnd(12)}${does}`);
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
    console.log(overview());
    return EXIT.fine;
  }
  if (first === '--version') {
    console.log(VERSION);
    return EXIT.fine;
  }
  const named = COMMANDS.find(({ name }) => name === first);
  if (named === undefined && first !== undefined && !first.startsWith('-')) {
    throw new BadUse(`"${first}" is not a command.\n\n${overview()}`);
  }
  const command = named ?? demoCommand;
  const commandArgs = named === undefined ? args : rest;
  if (commandArgs.includes('--help') || commandArgs.includes('-h')) {
    console.log(command.help);
    return EXIT.fine;
  }
  return command.run(commandArgs);
}

endWhenUnread();
try {
  process.exitCode = await main(process.argv.slice(2));
} catch (error) {
  const isTheirs = [BadUse, FileProblems, BeyondPlain].some((kind) => error instanceof kind);
  console.error(error instanceof Error && isTheirs ? error.message : error);
  process.exitCode = isTheirs ? EXIT.badUse : EXIT.defect;
}
