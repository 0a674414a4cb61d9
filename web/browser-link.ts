import type { LiveEnvironment } from './live.js';

/** The browser's own clock, timers and WebSocket at `/live` of the page's host. */
export const browserLink: LiveEnvironment = {
  openSocket(handlers) {
    const { protocol, host } = window.location;
    const socket = new WebSocket(`${protocol === 'https:' ? 'wss' : 'ws'}://${host}/live`);
    socket.addEventListener('message', (event) => handlers.text(event.data));
    socket.addEventListener('close', (event) => handlers.closed(event.reason));
    return {
      send: (text) => {
        if (socket.readyState === WebSocket.OPEN) socket.send(text);
      },
      close: () => socket.close(),
    };
  },
  now: () => performance.now(),
  after(ms, run) {
    const timer = setTimeout(run, ms);
    return () => clearTimeout(timer);
  },
  beforeFrame(run) {
    const frame = requestAnimationFrame(run);
    return () => cancelAnimationFrame(frame);
  },
};
