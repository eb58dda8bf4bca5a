import type { SessionView } from '../../core/protocol/view.ts';
import './differences.css';

/** Where two people's figures are apart, side by side. Nothing goes on before there are none. */
export function Differences({ differences }: { differences: SessionView['differences'] }) {
  if (differences.length === 0) return null;
  return (
    <table className="differences">
      <caption>the two computations differ: go back to chart and order, both</caption>
      <thead>
        <tr>
          <th scope="col">what</th>
          <th scope="col">first</th>
          <th scope="col">second</th>
        </tr>
      </thead>
      <tbody>
        {differences.map(({ what, first, second }) => (
          <tr key={what}>
            <th scope="row">{what}</th>
            <td>{first}</td>
            <td>{second}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
