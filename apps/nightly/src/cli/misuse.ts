/** A command that makes no sense as it stands, in a sentence. */
export class Misuse extends Error {
  override readonly name = "Misuse";
}
