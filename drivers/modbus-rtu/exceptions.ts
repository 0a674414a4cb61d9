/** Exception codes with their names in MODBUS Application Protocol V1.1b3, section 7. */
const NAMES: Readonly<Record<number, string>> = {
  0x01: 'illegal function',
  0x02: 'illegal data address',
  0x03: 'illegal data value',
  0x04: 'server device failure',
  0x05: 'acknowledge, still working on it',
  0x06: 'server device busy',
  0x08: 'memory parity error',
  0x0a: 'gateway path unavailable',
  0x0b: 'gateway target device failed to respond',
};

/** `exception 02, illegal data address`. */
export function exceptionInWords(code: number): string {
  return `exception ${code.toString(16).toUpperCase().padStart(2, '0')}, ${NAMES[code] ?? 'of no name in the standard'}`;
}

/** Whether the device says that these registers can't be read in this way: 02 and 03. */
export function isAboutRegisters(code: number): boolean {
  return code === 0x02 || code === 0x03;
}
