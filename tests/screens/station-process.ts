import { execFileSync } from 'node:child_process';

/** The process that a carrier started as its station. @throws Error where there is none. */
export function stationOf(carrierPid: number | undefined): number {
  const stations = execFileSync('ps', ['-A', '-o', 'pid=,ppid=,args='], { encoding: 'utf8' })
    .split('\n')
    .map((line) => /^\s*(\d+)\s+(\d+)\s+(.*)$/.exec(line))
    .filter((parts) => Number(parts?.[2]) === carrierPid && /station[/\\]main\.mjs/.test(parts?.[3] ?? ''));
  const pid = Number(stations[0]?.[1]);
  if (stations.length !== 1 || Number.isNaN(pid)) throw new Error(`${stations.length} stations instead of one`);
  return pid;
}
