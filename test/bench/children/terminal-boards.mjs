// Boards on pseudo-terminals that print 10 to 50 lines a second, and pages that listen: terminal-boards.mjs PATH...
// A message with the address of a page opens two of it in place of those before.
import { spawn } from 'node:child_process';
import { WebSocket } from 'ws';

const paths = process.argv.slice(2);
const boards = paths.map((path, place) => {
  const socat = spawn('socat', [`PTY,raw,echo=0,link=${path}`, 'STDIO']);
  socat.stdin.on('error', () => undefined);
  let lines = 0;
  const everyMs = 1000 / (10 + (40 * place) / Math.max(1, paths.length - 1));
  setInterval(() => {
    if (socat.stdin.writableLength < 1000)
      socat.stdin.write(`V: ${(12 + (lines++ % 9) / 1000).toFixed(3)} V\r\n`);
  }, everyMs);
  return socat;
});

let pages = [];
process.on('message', (address) => {
  for (const page of pages) page.terminate();
  pages = [0, 1].map(() => {
    const { host, origin } = new URL(address);
    const page = new WebSocket(`ws://${host}/live`, { origin });
    page.on('error', () => undefined);
    return page;
  });
});
process.on('SIGTERM', () => {
  for (const socat of boards) socat.kill('SIGTERM');
  setTimeout(() => process.exit(0), 200);
});
setTimeout(() => process.send?.('ready'), 1000);
