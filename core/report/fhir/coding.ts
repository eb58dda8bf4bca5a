/** UCUM units: code as the standard writes it, and how people read it. The tests check each with an independent library. */
export const UCUM = {
  cm: 'cm',
  kg: 'kg',
  m2: 'm²',
  mg: 'mg',
  mL: 'mL',
  'mL/min': 'mL/min',
  s: 's',
  'J/cm2': 'J/cm²',
  'mW/cm2': 'mW/cm²',
  mW: 'mW',
  um: 'µm',
  nm: 'nm',
  '1': '1',
} as const;

export type UcumCode = keyof typeof UCUM;

export const quantity = (value: number, code: UcumCode) => ({
  value,
  unit: UCUM[code],
  system: 'http://unitsofmeasure.org',
  code,
});

const LOINC = 'http://loinc.org';

/** LOINC's own names. 8277-6 is what the oncology guide for R4 uses for a measured or computed area; 3140-1 is narrower. */
export const BODY_CODES = {
  height: { coding: [{ system: LOINC, code: '8302-2', display: 'Body height' }], text: 'body height' },
  weight: { coding: [{ system: LOINC, code: '29463-7', display: 'Body weight' }], text: 'body weight' },
  area: {
    coding: [
      { system: LOINC, code: '8277-6', display: 'Body surface area' },
      { system: LOINC, code: '3140-1', display: 'Body surface area Derived from formula' },
    ],
    text: 'body surface area, computed',
  },
} as const;

/** HL7 R4, observation category. */
export const VITAL_SIGNS = [
  {
    coding: [
      {
        system: 'http://terminology.hl7.org/CodeSystem/observation-category',
        code: 'vital-signs',
        display: 'Vital Signs',
      },
    ],
  },
];

export const PROCEDURE_CATEGORY = [
  {
    coding: [
      {
        system: 'http://terminology.hl7.org/CodeSystem/observation-category',
        code: 'procedure',
        display: 'Procedure',
      },
    ],
  },
];

/** DICOM PS3.16: an audit event about the record of a procedure. */
export const PROCEDURE_RECORD = {
  system: 'http://dicom.nema.org/resources/ontology/DCM',
  code: '110111',
  display: 'Procedure Record',
};

/** HL7 R4, provenance participant type: put together by software. */
export const ASSEMBLER = {
  coding: [
    {
      system: 'http://terminology.hl7.org/CodeSystem/provenance-participant-type',
      code: 'assembler',
      display: 'Assembler',
    },
  ],
};

/** The notices that the owners of the two terminologies ask for, as they word them. */
export const NOTICES = [
  'This material contains content from LOINC (http://loinc.org). LOINC is copyright © Regenstrief Institute, Inc. and the ' +
    'Logical Observation Identifiers Names and Codes (LOINC) Committee and is available at no cost under the license at ' +
    'http://loinc.org/license. LOINC® is a registered United States trademark of Regenstrief Institute, Inc.',
  'This product includes all or a portion of the UCUM table, UCUM codes, and UCUM definitions or is derived from it, ' +
    'subject to a license from Regenstrief Institute, Inc. and The UCUM Organization. Your use of the UCUM table, UCUM ' +
    'codes, UCUM definitions also is subject to this license, a copy of which is available at http://unitsofmeasure.org. ' +
    'The current complete UCUM table, UCUM Specification are available for download at http://unitsofmeasure.org. The UCUM ' +
    'table and UCUM codes are copyright © 1995-2009, Regenstrief Institute, Inc. and the Unified Codes for Units of ' +
    'Measures (UCUM) Organization. All rights reserved. THE UCUM TABLE (IN ALL FORMATS), UCUM DEFINITIONS, AND ' +
    'SPECIFICATION ARE PROVIDED "AS IS." ANY EXPRESS OR IMPLIED WARRANTIES ARE DISCLAIMED, INCLUDING, BUT NOT LIMITED TO, ' +
    'THE IMPLIED WARRANTIES OF MERCHANTABILITY AND FITNESS FOR A PARTICULAR PURPOSE.',
] as const;
