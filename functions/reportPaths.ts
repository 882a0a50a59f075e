/** Where the reports of a company are. */
export const reportPaths = {
  salt: (companyId: string) => `reports/${companyId}/salt.csv`,
  /** What the API answers from, with what of it is not to be shared. */
  accounts: (companyId: string) => `reports/${companyId}/accounts.json`,
  accountsCsv: (companyId: string) => `reports/${companyId}/accounts.csv`,
  accountsParquet: (companyId: string) => `reports/${companyId}/accounts.parquet`,
  sharedCsv: (companyId: string) => `reports/${companyId}/accounts-shared.csv`,
  /** The folder of its regions' monthly reports, each in a folder of its region's name. */
  regions: (companyId: string) => `reports/${companyId}/regions/`,
  region: (companyId: string, region: string, file: string) =>
    `reports/${companyId}/regions/${region}/${file}`,
  dictionary: (companyId: string) => `reports/${companyId}/dictionary.csv`,
} as const;
