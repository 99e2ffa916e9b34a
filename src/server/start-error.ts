/** Why the server cannot start, in one line that names the place and the next step. Printed as it stands. */
export class StartError extends Error {
  override readonly name = "StartError";
}
