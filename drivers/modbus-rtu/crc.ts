const START = 0xffff;
/** x^16 + x^15 + x^2 + 1 with its bits in reverse, as bytes go over the line lowest bit first. */
const POLYNOMIAL = 0xa001;
const TABLE = Uint16Array.from({ length: 256 }, (_, byte) => {
  let register = byte;
  for (let bit = 0; bit < 8; bit += 1)
    register = register & 1 ? (register >>> 1) ^ POLYNOMIAL : register >>> 1;
  return register;
});

/** The CRC of MODBUS over Serial Line V1.02, 6.2.2; its low byte goes over the line first. */
export function crc16(bytes: Uint8Array): number {
  let register = START;
  for (let i = 0; i < bytes.length; i += 1) {
    register = (register >>> 8) ^ (TABLE[(register ^ (bytes[i] as number)) & 0xff] as number);
  }
  return register;
}

/** The bytes with their CRC behind them. */
export function withCrc(bytes: Uint8Array): Uint8Array {
  const crc = crc16(bytes);
  return Uint8Array.of(...bytes, crc & 0xff, crc >>> 8);
}

/** Whether the last two bytes are the CRC of those before: then the register ends at zero. */
export function hasGoodCrc(bytes: Uint8Array): boolean {
  return bytes.length > 2 && crc16(bytes) === 0;
}
