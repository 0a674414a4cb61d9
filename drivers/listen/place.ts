/** Where to listen. */
export type Place = { readonly serial: string } | { readonly tcp: string } | { readonly usbtmc: string };

/** Where a person's word for a port leads: a USB instrument's device file, `host:port`, or a serial port. */
export function placeOf(port: string): Place {
  if (/^\/dev\/usbtmc\d+$/.test(port)) return { usbtmc: port };
  return /^[^/\\\s]+:\d+$/.test(port) ? { tcp: port } : { serial: port };
}
