import type { ReadingMark } from '../driver.js';

export const REGISTER_TYPES = ['int16', 'uint16', 'int32', 'uint32', 'float32'] as const;
export type RegisterType = (typeof REGISTER_TYPES)[number];

/**
 * How the four bytes of a number lie in its two registers, A being the most significant. The standard knows only
 * registers of 16 bits, so makers differ.
 */
export const BYTE_ORDERS = ['ABCD', 'CDAB', 'BADC', 'DCBA'] as const;
export type ByteOrder = (typeof BYTE_ORDERS)[number];

/** For A, B, C, D the place in the answer. */
const PLACES: Readonly<Record<ByteOrder, readonly [number, number, number, number]>> = {
  ABCD: [0, 1, 2, 3],
  CDAB: [2, 3, 0, 1],
  BADC: [1, 0, 3, 2],
  DCBA: [3, 2, 1, 0],
};

/** How many registers a number takes. */
export function registersFor(type: RegisterType): 1 | 2 {
  return type === 'int16' || type === 'uint16' ? 1 : 2;
}

/** What stands in the registers whose first byte is `data[at]`. One register always has its high byte first. */
export function rawNumber(data: Uint8Array, at: number, type: RegisterType, order: ByteOrder): number {
  const view = new DataView(new ArrayBuffer(4));
  const size = 2 * registersFor(type);
  for (let i = 0; i < size; i += 1) {
    const place = size === 2 ? i : (PLACES[order][i] as number);
    view.setUint8(i, data[at + place] ?? 0);
  }
  switch (type) {
    case 'int16':
      return view.getInt16(0);
    case 'uint16':
      return view.getUint16(0);
    case 'int32':
      return view.getInt32(0);
    case 'uint32':
      return view.getUint32(0);
    case 'float32':
      return view.getFloat32(0);
  }
}

/** `raw` times scale plus offset. Divides where the scale is one over a whole number: 0.1 has no exact double. */
export function scaled(raw: number, scale: number, offset: number): number {
  const divisor = Math.round(1 / scale);
  return (1 / divisor === scale ? raw / divisor : raw * scale) + offset;
}

/** Devices with 32-bit floats say by infinity or not-a-number that they have no number. */
export function markOf(raw: number): ReadingMark | null {
  if (Number.isNaN(raw)) return 'not-a-number';
  return Number.isFinite(raw) ? null : 'overload';
}
