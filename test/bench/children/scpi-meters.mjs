// A server whose every connection is a meter that answers at once.
import { createServer } from 'node:net';

const ANSWERS = { '*IDN?': 'SIGNAL CABIN,BENCH METER,0,1.0', 'SYST:ERR?': '0,"No error"' };
const server = createServer((socket) => {
  let readings = 0;
  socket.setNoDelay(true);
  socket.on('error', () => socket.destroy());
  socket.on('data', (bytes) => {
    for (const message of bytes.toString().split('\n')) {
      if (message === 'READ?') socket.write(`+1.2${String(readings++ % 100_000).padStart(5, '0')}E+01\n`);
      else if (message in ANSWERS) socket.write(`${ANSWERS[message]}\n`);
    }
  });
});
server.listen(0, '127.0.0.1', () => process.send?.(server.address().port));
