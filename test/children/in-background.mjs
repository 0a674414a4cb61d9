// A program in the background of this terminal, as a shell has it behind "&": node in-background.mjs ARGUMENTS
import { spawnSync } from 'node:child_process';

const BEHIND = '"$0" "$@" & wait';
spawnSync('bash', ['-m', '-c', BEHIND, process.execPath, ...process.argv.slice(2)], { stdio: 'inherit' });
