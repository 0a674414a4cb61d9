// `watch` at this terminal: a board that prints 5.40 V on the logic rail, and a relay that takes its power away:
// node watch-at-bench.mjs RECORDINGS
import { readFileSync } from 'node:fs';
import { loadBench, loadDesign } from '../../dist/daemon/design/load.js';
import { pageAddress } from '../../dist/daemon/page-options.js';
import { runSession } from '../../dist/daemon/run-session.js';
import { memoryLinkPair } from '../../dist/drivers/links/memory.js';
import { instrumentPort } from '../../dist/drivers/simulated/instrument-port.js';
import { relayBoardDevice } from '../../dist/drivers/simulated/relay-board-device.js';
import { systemClock } from '../../dist/drivers/system-clock.js';

const [recordings] = process.argv.slice(2);
const DESIGN = new URL('../../daemon/design/examples/signal-cabin/signal-cabin.design.yaml', import.meta.url);
const BENCH = `bench: table
instruments:
  rails:
    driver: text-lines
    link: { serial: /dev/ttyUSB2 }
    options: { pattern: 'LOGIC {logic.volts} V', interval_ms: 100 }
outputs:
  mains-relay:
    driver: relay-lines
    link: { serial: /dev/ttyUSB3 }
    armed: true
    cuts_off_on: [passing-input]
`;

const clock = systemClock();
let powered = true;

/** A relay board at the far end of a link. */
function relayAt(far) {
  const port = instrumentPort();
  const gone = () => Promise.resolve();
  port.attach({ send: (bytes) => far.send(bytes), unplug: gone, plugIn: gone });
  far.onBytes((bytes) => port.receive(bytes));
  // The supply is on by another way until the relay has been told something.
  let told = false;
  relayBoardDevice({
    end: port,
    clock,
    deadMs: 3000,
    onContact(closed) {
      told ||= closed;
      powered = !told || closed;
    },
  }).start();
}

function linkFor({ name }) {
  const { link, far } = memoryLinkPair(name);
  if (name === 'mains-relay') relayAt(far);
  else setInterval(() => far.send(Buffer.from(`LOGIC ${powered ? '5.40' : '0.02'} V\r\n`)), 100).unref();
  return link;
}

const text = readFileSync(DESIGN, 'utf8');
const design = {
  file: 'signal-cabin.design.yaml',
  text,
  value: loadDesign(text, 'signal-cabin.design.yaml'),
};
const bench = { file: 't.bench.yaml', text: BENCH, value: loadBench(BENCH, 't.bench.yaml', design.value) };
await runSession({
  setup: { design, bench, load: 'typical', clock, startedAt: new Date(), linkFor, recordings },
  page: pageAddress({ port: '0' }),
  trustHooks: false,
  speed: 1,
  demo: null,
  json: false,
});
