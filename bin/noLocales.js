/** Stands in for the list of all languages of zod in a bundle; English, which it speaks by itself, it has from elsewhere. */
export {};
