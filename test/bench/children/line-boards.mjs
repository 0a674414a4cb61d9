// A server whose every connection is a board that prints so many lines a second.
import { createServer } from 'node:net';

const everyMs = 1000 / Number(process.argv[2]);
const server = createServer((socket) => {
  let lines = 0;
  socket.on('error', () => socket.destroy());
  const timer = setInterval(
    () => socket.write(`U: ${(5 + (lines++ % 100) / 1000).toFixed(3)} V\r\n`),
    everyMs,
  );
  socket.on('close', () => clearInterval(timer));
});
server.listen(0, '127.0.0.1', () => process.send?.(server.address().port));
