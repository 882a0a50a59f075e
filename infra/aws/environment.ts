/** The variables by which functions are told where things are: the stacks set them and the handlers read them. */
export const ENVIRONMENT = {
  table: 'BRINEBELL_TABLE',
  /** The bucket of the archive and the reports. */
  bucket: 'BRINEBELL_BUCKET',
  /** Ids of secrets. */
  answerKey: 'BRINEBELL_ANSWER_KEY',
  operatorKey: 'BRINEBELL_OPERATOR_KEY',
  /** Where people reach the console, for links. */
  publicUrl: 'BRINEBELL_PUBLIC_URL',
  mailFrom: 'BRINEBELL_MAIL_FROM',
  /** The OpenID provider, and our client there. */
  issuer: 'BRINEBELL_OIDC_ISSUER',
  client: 'BRINEBELL_OIDC_CLIENT',
  /** The template by which meters claim their certificates. */
  claimTemplate: 'BRINEBELL_CLAIM_TEMPLATE',
  /** The archive's catalogue, a database of AWS Glue. */
  catalogue: 'BRINEBELL_CATALOGUE',
  /** The workflow of rule trials. */
  trials: 'BRINEBELL_TRIALS',
  /** The URLs of a queue and of its dead letters. */
  queue: (name: string) => `BRINEBELL_QUEUE_${name.toUpperCase()}`,
  deadLetters: (name: string) => `BRINEBELL_DEAD_${name.toUpperCase()}`,
} as const;

/** Where our own counts are kept; each function counts under its name in the topology, as `service`. */
export const METRICS_NAMESPACE = 'brinebell';
