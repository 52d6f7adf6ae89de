// What a text is, and what a table of texts.

/** A text, or its plural forms chosen by the parameter `n`. `{name}` marks a parameter. */
export type Text = string | { one: string; other: string };
export type Words<K extends string = string> = Record<K, Text>;
