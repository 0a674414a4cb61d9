import { describe, expect, it } from 'vitest';
import type { DeviceMessage } from '../../../drivers/links/usbtmc-messages.js';
import { UsbtmcTalk } from '../../../drivers/links/usbtmc-talk.js';
import { settle } from './settle.js';

type Step = string | { readonly code: string };

/** A device file that gives what `steps` say, one for each read; after the last a read blocks for good. */
function talkWith(steps: readonly Step[], writeProblem?: string, present = true) {
  const left = [...steps];
  const told: DeviceMessage[] = [];
  const written: string[] = [];
  let reads = 0;
  let id = 0;
  const talk = new UsbtmcTalk({
    file: {
      read() {
        reads += 1;
        const step = left.shift();
        if (step === undefined) return new Promise(() => undefined);
        if (typeof step === 'string') return Promise.resolve(Buffer.from(step));
        return Promise.reject(Object.assign(new Error('x'), { code: step.code }));
      },
      write(bytes) {
        written.push(Buffer.from(bytes).toString());
        if (writeProblem === undefined) return Promise.resolve();
        return Promise.reject(Object.assign(new Error('x'), { code: writeProblem }));
      },
      present: () => Promise.resolve(present),
    },
    tell: (message) => Promise.resolve(void told.push(message)),
    pause: () => Promise.resolve(),
  });
  return {
    told,
    written,
    reads: () => reads,
    heard: () =>
      told.flatMap((message) => (message.kind === 'bytes' ? [Buffer.from(message.bytes).toString()] : [])),
    write: async (text: string): Promise<void> => {
      void talk.write({ kind: 'write', id: (id += 1), bytes: Buffer.from(text) });
      await settle();
    },
  };
}

const TIMED_OUT = { code: 'ETIMEDOUT' };

describe('the talk with a USB instrument', () => {
  it('reads after a question and not after a command', async () => {
    const { reads, heard, told, write } = talkWith(['12.06\n']);
    await write('*CLS\n');
    expect(reads()).toBe(0);
    await write('READ?\n');
    expect(heard()).toEqual(['12.06\n']);
    expect(reads()).toBe(1);
    expect(told[0]).toEqual({ kind: 'written', id: 1 });
  });

  it('reads an answer that comes in pieces to its end, line feeds within its block included', async () => {
    const { heard, write } = talkWith(['#15ab\n', 'c', 'd\n', '0,"No error"\n']);
    await write('DATA?\n');
    expect(heard().join('')).toBe('#15ab\ncd\n');
    await write('SYST:ERR?\n');
    expect(heard().at(-1)).toBe('0,"No error"\n');
  });

  it('reads as many answers as there are questions', async () => {
    const { heard, write } = talkWith(['1\n', '2\n', '3\n']);
    await write('A?\n*CLS\nB?;C?\n');
    expect(heard()).toEqual(['1\n', '2\n']);
  });

  it('takes a read without bytes, and one that timed out, for an answer that is still to come', async () => {
    const { heard, told, write } = talkWith(['', TIMED_OUT, '', { code: 'EINTR' }, '12.06\n']);
    await write('READ?\n');
    expect(heard()).toEqual(['12.06\n']);
    expect(told.some(({ kind }) => kind === 'gone')).toBe(false);
  });

  it('gives an answer up for the next question, and reads one more after that', async () => {
    let release: (bytes: Uint8Array) => void = () => undefined;
    const told: DeviceMessage[] = [];
    const answers = ['11.11\n', 'SIGNAL CABIN,METER,0,1\n'];
    let reads = 0;
    const talk = new UsbtmcTalk({
      file: {
        read() {
          reads += 1;
          if (reads === 1) return new Promise((resolve) => (release = resolve));
          const answer = answers.shift();
          return answer === undefined ? new Promise(() => undefined) : Promise.resolve(Buffer.from(answer));
        },
        write: () => Promise.resolve(),
        present: () => Promise.resolve(true),
      },
      tell: (message) => Promise.resolve(void told.push(message)),
      pause: () => Promise.resolve(),
    });
    void talk.write({ kind: 'write', id: 1, bytes: Buffer.from('READ?\n') });
    await settle();
    void talk.write({ kind: 'write', id: 2, bytes: Buffer.from('*IDN?\n') });
    release(new Uint8Array());
    await settle();
    const heard = told.flatMap((message) =>
      message.kind === 'bytes' ? [Buffer.from(message.bytes).toString()] : [],
    );
    expect(heard).toEqual(['11.11\n', 'SIGNAL CABIN,METER,0,1\n']);
  });

  // What the kernel gives for a device that was pulled out: ENODEV; a hung-up terminal gives EIO.
  it.each(['ENODEV', 'EIO', 'ESHUTDOWN'])('ends at %s, once', async (code) => {
    const { told, write } = talkWith([{ code }]);
    await write('READ?\n');
    await write('READ?\n');
    expect(told.filter(({ kind }) => kind === 'gone')).toEqual([{ kind: 'gone', code }]);
  });

  // A terminal that has hung up ends every read at once without bytes (POSIX, "Modem Disconnect").
  it('ends when a read gives nothing and the device file is not there any more', async () => {
    const { told, write } = talkWith([''], undefined, false);
    await write('READ?\n');
    expect(told.at(-1)).toEqual({ kind: 'gone', code: 'ENOENT' });
  });

  it('ends when a write finds the device gone, and says so when it takes nothing', async () => {
    const gone = talkWith([], 'ENODEV');
    await gone.write('READ?\n');
    expect(gone.told).toEqual([{ kind: 'gone', code: 'ENODEV' }]);
    const stuck = talkWith([], 'ETIMEDOUT');
    await stuck.write('READ?\n');
    expect(stuck.told).toMatchObject([{ kind: 'not-written', id: 1 }]);
    expect(stuck.reads()).toBe(0);
  });
});
