import type { SessionView } from '../../core/protocol/view.ts';
import './differences.css';

/** Where two people's figures are apart, side by side. Nothing goes on before there are none. */
export function Differences({ differences }: { differences: SessionView['differences'] }) {
  return (
    <table className="differences">
      <caption>the two computations differ: both go back to chart and order</caption>
      <thead>
        <tr>
          <th scope="col">first</th>
          <th scope="col">second</th>
        </tr>
      </thead>
      {differences.map(({ what, first, second }) => (
        <tbody key={what}>
          <tr>
            <th scope="rowgroup" colSpan={2}>
              {what}
            </th>
          </tr>
          <tr>
            <td>{first}</td>
            <td>{second}</td>
          </tr>
        </tbody>
      ))}
    </table>
  );
}
