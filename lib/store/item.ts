/** What names an item of the table. */
export interface Key {
  readonly pk: string;
  readonly sk: string;
}

/** Every attribute that an item may have. Most kinds of item are a key and one JSON text. */
export interface Attributes {
  /** Where it is listed, if it is: the key of the index. */
  readonly lpk?: string;
  readonly lsk?: string;
  readonly json?: string;
  /** The line of a fact. */
  readonly line?: string;
  /** The version of a unit's head, or of the head that the item was taken from. */
  readonly v?: number;
  readonly head?: Uint8Array;
  readonly basis?: string;
  readonly outbox?: Uint8Array;
  /** What people did about an alert, a JSON text. */
  readonly acts?: string;
  /** That people are told of an alert. */
  readonly told?: boolean;
  /** Of a company's registry, rules and channels. */
  readonly revision?: string;
  /** Of a company: the instant up to which its units have been looked at by the clock. */
  readonly swept?: number;
  /** When the table may drop the item by itself, in seconds since 1970. */
  readonly expiration?: number;
}

export interface Item extends Key, Attributes {}
