import { once } from 'node:events';
import type { AddressInfo } from 'node:net';
import { expect, it, onTestFinished } from 'vitest';
import { WebSocketServer } from 'ws';
import { runCommand } from '../run-command.js';

it.each(['not JSON', 'null', '"kind"', '{}'])(
  'a program on the session’s port that says %j and then listens no more is named as another one',
  async (says) => {
    const other = new WebSocketServer({ port: 0, host: '127.0.0.1' });
    onTestFinished(() => void other.close());
    await once(other, 'listening');
    other.on('connection', (socket) => {
      onTestFinished(() => socket.terminate());
      socket.send(says, () => socket.pause());
    });
    const port = String((other.address() as AddressInfo).port);
    const { code, stderr } = await runCommand('note', 'lamps flicker', '--port', port);
    expect(stderr).toBe(`--port ${port}: another program answers there; give the port of its page\n`);
    expect(code).toBe(2);
  },
);
