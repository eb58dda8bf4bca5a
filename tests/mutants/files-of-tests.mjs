import { commonTokens, declareFactoryPlugin, PluginKind, tokens } from '@stryker-mutator/api/plugin';
import { VitestTestRunner } from '../../node_modules/@stryker-mutator/vitest-runner/dist/src/vitest-test-runner.js';

/**
 * The runner for vitest, which names single tests as vitest 4 did; vitest 5 joins the parts of a name otherwise and then
 * finds none. Here a mutant is met by every test of the files in which some test reaches it.
 */
class FilesOfTests extends VitestTestRunner {
  run({ testIds = [], ...options } = {}) {
    const testFiles = [...new Set(testIds.map((id) => id.split('#')[0]))];
    return super.run(testFiles.length === 0 ? options : { ...options, testFiles });
  }
}

runner.inject = tokens(commonTokens.injector);
function runner(injector) {
  return injector.provideValue('globalNamespace', '__stryker__').injectClass(FilesOfTests);
}

export const strykerPlugins = [declareFactoryPlugin(PluginKind.TestRunner, 'files-of-tests', runner)];
