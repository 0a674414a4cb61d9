/** Which USB device: vendor and product as four hex digits, and its serial number where two are alike. */
export interface UsbId {
  readonly vendor: string;
  readonly product: string;
  readonly serial?: string;
}

/** What is used of a port that the system lists. */
export interface ListedPort {
  readonly path: string;
  readonly vendorId?: string | undefined;
  readonly productId?: string | undefined;
  readonly serialNumber?: string | undefined;
  readonly manufacturer?: string | undefined;
  /** What the device calls itself. */
  readonly product?: string | undefined;
}

/** `1a86:7523`, or `1a86:7523:A50285BI` with a serial number. */
export function usbIdText({ vendor, product, serial }: UsbId): string {
  return [vendor, product, ...(serial === undefined ? [] : [serial])].join(':');
}

/**
 * The path of the one listed port that is this device.
 * @throws Error in plain words when there is none, or more than one: a wrong guess would read the wrong instrument.
 */
export function findUsbDevice(id: UsbId, ports: readonly ListedPort[]): string {
  const matching = ports.filter((port) => isDevice(port, id));
  const [first, ...others] = matching;
  if (first === undefined) {
    throw new Error(`no USB device ${usbIdText(id)} is plugged in; plug it in, or check the id`);
  }
  if (others.length > 0) {
    const paths = matching.map((port) => port.path).join(', ');
    throw new Error(`${matching.length} devices are ${usbIdText(id)} (${paths}); ${howToTell(matching)}`);
  }
  return first.path;
}

/** Boards of one kind often have one serial number, or none, and some devices have two ports. */
function howToTell(ports: readonly ListedPort[]): string {
  const numbers = new Set(ports.map(({ serialNumber }) => serialNumber?.toLowerCase()));
  if (numbers.size === ports.length) return 'add the serial number to the id, or give a path';
  return 'give a path, on Linux one under /dev/serial/by-path, which stays with its socket';
}

function isDevice(port: ListedPort, { vendor, product, serial }: UsbId): boolean {
  return (
    port.vendorId?.toLowerCase() === vendor.toLowerCase() &&
    port.productId?.toLowerCase() === product.toLowerCase() &&
    (serial === undefined || port.serialNumber?.toLowerCase() === serial.toLowerCase())
  );
}
