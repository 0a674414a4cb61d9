import { listSerialPorts } from './links/listed-ports.js';
import type { ListedPort } from './links/usb-id.js';
import { listUsbtmc } from './links/usbtmc.js';
import { printable } from './printable.js';

/** One place of this computer where an instrument can be joined. What the system doesn't know is null. */
export interface PortDescription {
  readonly path: string;
  /** `usbtmc` is a USB instrument of the test and measurement class. */
  readonly kind: 'serial' | 'usbtmc';
  /** `vendor:product` in hex. */
  readonly usb: string | null;
  readonly serial: string | null;
  readonly maker: string | null;
  /** What the device calls itself. */
  readonly product: string | null;
}

/** Where the ports are looked up; the system's own lists unless a test says otherwise. */
export interface PortLists {
  readonly serial: () => Promise<readonly ListedPort[]>;
  readonly usbtmc: () => Promise<readonly ListedPort[]>;
}

const LISTS: PortLists = { serial: () => listSerialPorts(), usbtmc: () => listUsbtmc() };

/** Rejects in plain words when the system doesn't tell its ports. */
export async function listPorts({ serial, usbtmc }: PortLists = LISTS): Promise<PortDescription[]> {
  const ports = await serial().catch((cause: unknown) => {
    throw new Error('the system does not list its serial ports; on Linux install udev', { cause });
  });
  const instruments = await usbtmc();
  return [
    ...ports.map((port) => description('serial', port)),
    ...instruments.map((port) => description('usbtmc', port)),
  ];
}

function description(kind: PortDescription['kind'], port: ListedPort): PortDescription {
  const { path, vendorId, productId, serialNumber, manufacturer, product } = port;
  return {
    path,
    kind,
    usb: vendorId && productId ? `${vendorId}:${productId}`.toLowerCase() : null,
    serial: serialNumber ? printable(serialNumber) : null,
    maker: manufacturer ? printable(manufacturer) : null,
    product: product ? printable(product) : null,
  };
}
