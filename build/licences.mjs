/** Licences that a package may come under: all let it be passed on with its notice. By their SPDX identifiers. */
export const ALLOWED = [
  '0BSD',
  'Apache-2.0',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'BlueOak-1.0.0',
  'CC0-1.0',
  'ISC',
  'MIT',
  'OFL-1.1',
  'Unlicense',
];

/** Packages that name no licence, of exactly the version whose licence file was read. */
const READ_IN_ITS_FILE = {
  'png-js@2.0.0': 'MIT',
};

/** A component of a CycloneDX list, with the licence that its own file states where it names none. */
export function statedLicences(component) {
  const read = READ_IN_ITS_FILE[`${component.name}@${component.version}`];
  return component.licenses === undefined && read !== undefined
    ? { ...component, licenses: [{ license: { id: read } }] }
    : component;
}

/** What keeps parts from being passed on, as sentences that say what to do. */
export function refusedLicences(parts) {
  return parts.flatMap(({ path, component: { name, version, licenses = [] } }) => {
    const names = licenses.map(({ license, expression }) => expression ?? license.id ?? license.name);
    if (names.length > 0 && names.every(isAllowed)) return [];
    const found = names.length === 0 ? 'names no licence' : `is under ${names.join(', ')}, which is not on the list`;
    return [`${name}@${version} ${found}: read ${path}, then decide in build/licences.mjs`];
  });
}

/** A choice is allowed where one side is. Anything more involved is for a person to read. */
const isAllowed = (named) => {
  const choice = /^\((.*)\)$/.exec(named)?.[1] ?? named;
  return choice.split(' OR ').some((one) => ALLOWED.includes(one));
};
