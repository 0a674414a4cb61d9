// Holds a relay board's contact closed for as long as this process lives: node hold-relay.mjs DEVICE
import { serialLink } from '../../../../dist/drivers/links/serial.js';
import { relayLines } from '../../../../dist/drivers/outputs/relay-lines.js';
import { systemClock } from '../../../../dist/drivers/system-clock.js';

const clock = systemClock();
const link = serialLink({ path: process.argv[2], baud: 9600, clock });
const output = relayLines.start({ link, options: { alive_ms: 100 }, clock, emit: () => undefined });
setInterval(() => output.keepAlive(), 50);
const tryOn = () =>
  output.on().then(
    () => console.log('held'),
    () => setTimeout(tryOn, 100),
  );
tryOn();
