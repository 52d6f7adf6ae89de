// The vectors that Python and TypeScript are both held to.
import { readFileSync } from "node:fs";

/** A file of tests/vectors, whose folder the runner names. */
export const vectors = <T>(name: string): T => JSON.parse(readFileSync(`${process.env["PLYTIDE_VECTORS"]}/${name}.json`, "utf8")) as T;
