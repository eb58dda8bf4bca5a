import { globSync } from 'node:fs';
import { registerHooks } from 'node:module';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { commonTokens, declareFactoryPlugin, PluginKind, tokens } from '@stryker-mutator/api/plugin';
import {
  DryRunStatus,
  determineHitLimitReached,
  TestStatus,
  toMutantRunResult,
} from '@stryker-mutator/api/test-runner';

/**
 * Meets mutants in the process that holds them: tests are read once, without a mutant, and run again for each, which
 * takes a tenth of the time of reading them anew. So no mutant is met in what a test makes while its file is read, nor
 * in what a source works out while it is read: the latter, static mutants, are left out of the count.
 */
class InProcess {
  static inject = tokens(commonTokens.options);
  mutants = {};

  constructor({ inProcess }) {
    this.patterns = inProcess.tests;
  }

  /** What has to be read anew for static mutants alone, which are left out, need not be; a new process would read all. */
  capabilities() {
    return { reloadEnvironment: true };
  }

  async init() {
    globalThis.__stryker__ = this.mutants;
    registerHooks({ resolve: toCollecting });
    const { testsOf } = await import(COLLECTING);
    this.tests = await testsOf(filesOf(this.patterns), (file) => import(pathToFileURL(resolve(file)).href));
  }

  async dryRun() {
    const tests = [];
    for (const test of this.tests) {
      this.mutants.currentTestId = test.id;
      const startedMs = performance.now();
      const result = await resultOf(test);
      tests.push({ ...result, timeSpentMs: performance.now() - startedMs });
    }
    this.mutants.currentTestId = undefined;
    return { status: DryRunStatus.Complete, tests, mutantCoverage: this.mutants.mutantCoverage };
  }

  async mutantRun({ testFilter, activeMutant, hitLimit }) {
    Object.assign(this.mutants, { activeMutant: activeMutant.id, hitCount: 0, hitLimit });
    const tests = [];
    for (const test of this.tests.filter(({ id }) => testFilter?.includes(id) ?? true)) {
      tests.push(await resultOf(test));
      if (tests.at(-1).status === TestStatus.Failed) break;
    }
    const tooOften = determineHitLimitReached(this.mutants.hitCount, hitLimit);
    Object.assign(this.mutants, { activeMutant: undefined, hitLimit: undefined });
    await this.mustPassAgain(tests.at(-1));
    return toMutantRunResult(tooOften ?? { status: DryRunStatus.Complete, tests });
  }

  /** A mutant may have changed what tests share. Then this process is of no more use: it ends, and a new one meets it. */
  async mustPassAgain(last) {
    if (last?.status !== TestStatus.Failed) return;
    const again = await resultOf(this.tests.find(({ id }) => id === last.id));
    if (again.status === TestStatus.Failed) process.exit(1);
  }
}

async function resultOf({ id, name, file, run }) {
  const told = { id, name, fileName: resolve(file), timeSpentMs: 0 };
  try {
    await run();
    return { ...told, status: TestStatus.Success };
  } catch (error) {
    return { ...told, status: TestStatus.Failed, failureMessage: String(error?.message ?? error) };
  }
}

/** In the order of the patterns, each file once. */
const filesOf = (patterns) => [...new Set(patterns.flatMap((pattern) => globSync(pattern).sort()))];

const COLLECTING = new URL('collecting.mjs', import.meta.url).href;

function toCollecting(specifier, context, next) {
  if (specifier !== 'vitest' || context.parentURL === COLLECTING) return next(specifier, context);
  return { url: COLLECTING, shortCircuit: true };
}

create.inject = tokens(commonTokens.injector);
function create(injector) {
  return injector.injectClass(InProcess);
}

export const strykerPlugins = [declareFactoryPlugin(PluginKind.TestRunner, 'in-process', create)];
