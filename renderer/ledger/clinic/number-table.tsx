interface NumberTableProps {
  readonly caption: string;
  readonly heads: readonly string[];
  /** The first of each row is what the row is about. */
  readonly rows: readonly (readonly (string | number)[])[];
}

/** The same as a chart, in numbers. */
export function NumberTable({ caption, heads, rows }: NumberTableProps) {
  return (
    <table className="clinic-table">
      <caption>{caption}</caption>
      <thead>
        <tr>
          {heads.map((head) => (
            <th key={head} scope="col">
              {head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(([about, ...cells]) => (
          <tr key={about}>
            <th scope="row">{about}</th>
            {cells.map((cell, index) => (
              <td key={heads[index + 1]}>{cell}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
