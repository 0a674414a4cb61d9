/** A drawing taken in by its address. */
declare module '*.svg' {
  const address: string;
  export default address;
}
