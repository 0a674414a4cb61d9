/**
 * The far side of a pseudo-terminal for `python3 -c`, with the link's path as its argument. It keeps no slave open
 * itself, so it sees whether any program listens, and throws away what the device says to nobody. It ends on
 * SIGTERM or when its input closes, and takes the link with it.
 */
export const PTY_CHILD = `
import os, pty, select, signal, sys, tty

path = sys.argv[1]
master, slave = pty.openpty()
tty.setraw(slave)
if os.path.islink(path):
    os.unlink(path)
os.symlink(os.ttyname(slave), path)
os.close(slave)
os.set_blocking(master, False)

def leave(*_):
    try:
        os.unlink(path)
    except OSError:
        pass
    os._exit(0)

signal.signal(signal.SIGTERM, leave)
signal.signal(signal.SIGINT, signal.SIG_IGN)
look = select.poll()
look.register(master, select.POLLIN)
os.write(2, b'ready\\n')

def hear():
    try:
        said = os.read(master, 65536)
    except OSError:
        return
    if said:
        os.write(1, said)

def nobody():
    return any(event & select.POLLHUP for _, event in look.poll(0))

pending = b''
while True:
    if nobody():
        hear()
        pending = b''
        # Looked at once more after the wait: what is said just after a program has come is for it.
        if select.select([0], [], [], 0.02)[0] and nobody() and not os.read(0, 65536):
            leave()
        continue
    wait = select.poll()
    wait.register(master, select.POLLIN | (select.POLLOUT if pending else 0))
    if not pending:
        wait.register(0, select.POLLIN)
    for fd, event in wait.poll():
        if fd == 0:
            pending = os.read(0, 65536)
            if not pending:
                leave()
            continue
        if event & select.POLLIN:
            hear()
        if event & select.POLLOUT and pending:
            try:
                pending = pending[os.write(master, pending):]
            except OSError:
                pass
`;
