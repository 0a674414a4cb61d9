/** A stylesheet taken in as text, for a constructable sheet inside a shadow root. */
declare module '*.css?inline' {
  const text: string;
  export default text;
}
