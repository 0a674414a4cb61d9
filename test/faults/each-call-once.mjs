// Makes every place of the program that asks the system for something fail once, the first time it comes to it after
// the file ARMED is there, and writes down each in the file FAILED: "handle.write record/disk.js".
// Loaded before the program and each of its threads: node --import ./each-call-once.mjs. ONLY: one place alone,
// or none: then they are only written down.
import { ChildProcess } from 'node:child_process';
import fs from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import net from 'node:net';
import os from 'node:os';
import { fileURLToPath } from 'node:url';
import threads from 'node:worker_threads';

const { ARMED, FAILED, ONLY } = process.env;
const PROGRAM = fileURLToPath(new URL('../../dist/', import.meta.url));
const { appendFileSync, existsSync } = fs;
/** Nothing fails; what is come to is written down. */
const NONE = 'none';
const seen = new Set();

/** The first file of the program on the way to here; null for what Node does by itself. */
function place() {
  const { stack } = new Error();
  const at = stack.indexOf(PROGRAM);
  return at < 0 ? null : stack.slice(at + PROGRAM.length).split(/[:?]/, 1)[0];
}

let isWritingDown = false;

function isToFail(call) {
  const file = isWritingDown ? null : place();
  if (file === null) return false;
  const key = `${call} ${file}`;
  if (seen.has(key) || (ONLY !== undefined && ONLY !== key && ONLY !== NONE) || !existsSync(ARMED))
    return false;
  seen.add(key);
  isWritingDown = true;
  appendFileSync(FAILED, `${key}\n`);
  isWritingDown = false;
  return ONLY !== NONE;
}

function trouble(call) {
  return Object.assign(new Error(`EIO: as asked for, ${call}`), { code: 'EIO', syscall: call, errno: -5 });
}

const isCall = ([name, value]) =>
  typeof value === 'function' && /^[a-z]/.test(name) && !/^_|watch/i.test(name);

/** The calls on an open file. */
function failingHandle(handle) {
  for (const name of [
    'read',
    'write',
    'sync',
    'datasync',
    'stat',
    'close',
    'readFile',
    'writeFile',
    'truncate',
  ]) {
    const real = handle[name].bind(handle);
    handle[name] = async (...args) => {
      if (!isToFail(`handle.${name}`)) return real(...args);
      // Even a close that fails has closed (close(2)).
      if (name === 'close') await real();
      throw trouble(name);
    };
  }
  return handle;
}

for (const [name, real] of Object.entries(fs.promises).filter(isCall)) {
  fs.promises[name] = async (...args) => {
    if (isToFail(name)) throw trouble(name);
    const given = await real(...args);
    return name === 'open' ? failingHandle(given) : given;
  };
}
for (const [name, real] of Object.entries(fs).filter(isCall)) {
  if (name.endsWith('Sync') && name !== 'existsSync') {
    fs[name] = (...args) => {
      if (isToFail(name)) throw trouble(name);
      return real(...args);
    };
  } else if (/^create(Read|Write)Stream$/.test(name)) {
    fs[name] = (...args) => {
      const stream = real(...args);
      if (isToFail(name)) process.nextTick(() => stream.destroy(trouble(name)));
      return stream;
    };
  } else if (typeof fs[`${name}Sync`] === 'function' && name !== 'exists') {
    fs[name] = (...args) => {
      if (!isToFail(name)) return real(...args);
      process.nextTick(args.at(-1), trouble(name));
    };
    // By these Node knows what their promised form gives.
    for (const mark of Object.getOwnPropertySymbols(real))
      Object.defineProperty(fs[name], mark, Object.getOwnPropertyDescriptor(real, mark));
  }
}

const { spawn } = ChildProcess.prototype;
ChildProcess.prototype.spawn = function (options) {
  if (isToFail('spawn')) this._handle.spawn = () => -os.constants.errno.EAGAIN;
  return spawn.call(this, options);
};

const { Worker } = threads;
threads.Worker = class extends Worker {
  constructor(file, options) {
    if (isToFail('thread')) throw trouble('thread');
    super(file, options);
  }
};

const { connect, write } = net.Socket.prototype;
net.Socket.prototype.connect = function (...args) {
  if (!isToFail('connect')) return connect.apply(this, args);
  process.nextTick(() => this.destroy(trouble('connect')));
  return this;
};
net.Socket.prototype.write = function (...args) {
  if (this === process.stderr || !isToFail('socket.write')) return write.apply(this, args);
  process.nextTick(() => this.destroy(trouble('write')));
  return false;
};
for (const name of ['networkInterfaces', 'hostname', 'userInfo']) {
  const real = os[name];
  os[name] = (...args) => {
    if (isToFail(name)) throw trouble(name);
    return real(...args);
  };
}

syncBuiltinESMExports();
