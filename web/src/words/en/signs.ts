import type { Words } from "..";

export const signs = { title: "Signs" } satisfies Words;
