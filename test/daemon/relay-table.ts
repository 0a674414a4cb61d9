/** A bench file with a board that prints the logic rail, and a relay that a passed input drops. */
export function relayTable(
  rails: string,
  relay: string,
  more: { instruments?: string; aliveMs?: number } = {},
): string {
  const options = more.aliveMs === undefined ? '' : `\n    options: { alive_ms: ${more.aliveMs} }`;
  return `bench: table
instruments:
  rails:
    driver: text-lines
    link: { serial: ${rails} }
    options: { pattern: 'LOGIC {logic.volts} V', interval_ms: 100 }
${more.instruments ?? ''}outputs:
  mains-relay:
    driver: relay-lines
    link: { serial: ${relay} }${options}
    armed: true
    cuts_off_on: [passing-input]
`;
}
