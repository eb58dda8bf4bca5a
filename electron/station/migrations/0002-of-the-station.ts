/**
 * The last entry of a kind that concerns the station (its settings, its roster) is asked for at every start and whenever
 * its history is shown: it is not looked for among all the others.
 */
export const ofTheStation = `
  CREATE INDEX entries_of_the_station ON entries (kind, seq) WHERE session IS NULL;
`;
