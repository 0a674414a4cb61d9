import { scpiScope } from '../../../drivers/scpi-scope/scpi-scope.js';
import { gist, type DeviceSurroundings, type DriverContract, type GoodDevice } from '../stage.js';
import { definiteBlock, waveform } from './stand-in.js';

const options = {
  dialect: 'ten-field',
  inputs: { 'reservoir.volts': { input: 1, attenuation: 10 } },
  interval_ms: 100,
  timeout_ms: 500,
  most_points: 100_000,
};

/** Answers each question 10 ms after it was asked and triggers at once; its captures never come twice. */
function scope({ clock, say, promise, onHeard }: DeviceSurroundings, identity: string): GoodDevice {
  let awake = false;
  let serial = 0;
  let isDone = false;
  const answers: Readonly<Record<string, () => string | Uint8Array>> = {
    '*IDN?': () => identity,
    'SYST:ERR?': () => '+0,"No error"',
    ':CHAN1:COUP?': () => 'DC',
    ':CHAN1:PROB?': () => '+1.0E+01',
    ':WAV:PRE?': () => waveform(serial).preamble,
    '*ESR?': () => {
      const status = isDone ? '1' : '0';
      isDone = false;
      return status;
    },
    ':WAV:DATA?': () => {
      const { bytes, means } = waveform(serial);
      promise('reservoir.volts', gist(means));
      return definiteBlock(bytes);
    },
  };
  function hear(message: string): void {
    if (message === ':SING') serial += 1;
    if (message === '*OPC') isDone = true;
    const answer = awake ? answers[message]?.() : undefined;
    if (answer !== undefined) say(Buffer.concat([Buffer.from(answer), Buffer.from('\n')]));
  }
  onHeard((text) => {
    const messages = text.split('\n').filter((message) => message !== '');
    for (const message of messages) clock.after(10, () => hear(message));
  });
  return { wake: () => void (awake = true), sleep: () => void (awake = false) };
}

export const CONTRACT: DriverContract = {
  driver: scpiScope,
  options,
  channels: scpiScope.channelsOf(options),
  device: (around) => scope(around, 'SIGNAL CABIN,BENCH SCOPE,0,1.0'),
  otherDevice: (around) => scope(around, 'SIGNAL CABIN,OTHER SCOPE,0,1.0'),
  otherDeviceFault: 'wrong-device',
  disturbOneIn: 45, // a capture takes eight answers in a row, and four more after getting in step
  longestFrameBytes: waveform(1).preamble.length + 2,
};
