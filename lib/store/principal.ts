/** Who may call, and as whom. Its secret is not kept, only a hash of it. */
export interface Principal {
  /** The name that it presents: a company's key, or `companyId/unitId` of a meter. */
  readonly name: string;
  readonly companyId: string;
  /** Of a meter: the one unit that it may speak for. */
  readonly unitId: string | null;
  readonly secretHash: string;
}
