/**
 * What a message must be given, read from its text by the compiler: `{name}` takes a text or a number, `{n, plural,
 * …}` and `{n, number}` a number, `{kind, select, …}` a text. Quoted braces are not supported.
 */
export type ArgumentsOf<Message extends string> = {
  readonly [Found in Scan<Message, ['text']> as Found[0]]: Found[1];
};

type Argument = [name: string, type: unknown];
type ArgumentType<Kind extends string> = Trim<Kind> extends 'select' ? string : number;

type Trim<Text extends string> = Text extends ` ${infer Rest}` | `\n${infer Rest}`
  ? Trim<Rest>
  : Text extends `${infer Rest} ` | `${infer Rest}\n`
    ? Trim<Rest>
    : Text;

/**
 * Walks from brace to brace. `Stack` says where a brace stands: in text it opens an argument, in an argument the text
 * of a branch.
 */
type Scan<Text extends string, Stack extends readonly string[]> =
  NextBrace<Text> extends [infer Brace, infer Before extends string, infer After extends string]
    ? Brace extends '{'
      ? Stack extends readonly ['text', ...string[]]
        ? Head<After, Stack>
        : Scan<After, ['text', ...Stack]>
      : Stack extends readonly [string, ...infer Outer extends string[]]
        ? Scan<After, Outer>
        : never & Before
    : never;

/** An argument just opened: its name, and its kind where it has one. */
type Head<After extends string, Stack extends readonly string[]> =
  NextBrace<After> extends [infer Brace, infer Before extends string, infer Rest extends string]
    ? Before extends `${infer Name},${infer Kind},${string}`
      ? [Trim<Name>, ArgumentType<Kind>] | Scan<`${Brace & string}${Rest}`, ['argument', ...Stack]>
      : Before extends `${infer Name},${infer Kind}`
        ? [Trim<Name>, ArgumentType<Kind>] | Scan<`${Brace & string}${Rest}`, ['argument', ...Stack]>
        : [Trim<Before>, string | number] | Scan<Rest, Stack>
    : never;

/** The next brace with what stands before and after it. */
type NextBrace<Text extends string> = Text extends `${infer Before}{${infer After}`
  ? Before extends `${infer Early}}${infer Between}`
    ? ['}', Early, `${Between}{${After}`]
    : ['{', Before, After]
  : Text extends `${infer Before}}${infer After}`
    ? ['}', Before, After]
    : undefined;

/** Only to be seen by the compiler: what {@link Scan} yields. */
export type ScanResult = Argument;
