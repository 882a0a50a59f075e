declare module 'dynalite' {
  import type { Server } from 'node:http';

  interface Options {
    /** Folder of the database; in memory without one. */
    path?: string;
    /** How long a table takes to be made, milliseconds. */
    createTableMs?: number;
  }

  /** A server that answers as DynamoDB does. Its database opens with it, and closes with it. */
  export default function dynalite(options?: Options): Server;
}
