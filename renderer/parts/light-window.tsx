import type { Box } from './label-places.ts';

interface LightWindowProps {
  readonly box: Box;
  /** Lit from within: it may be used. */
  readonly lit: boolean;
  readonly linePx: number;
}

/** The four-pane window, as part of a drawing: an outline until it is lit. */
export function LightWindow({ box, lit, linePx }: LightWindowProps) {
  const { x, y, width, height } = box;
  const middleX = x + width / 2;
  const middleY = y + height / 2;
  const inset = linePx / 2;
  if (!lit) {
    return (
      <g className="light-window" fill="none" strokeWidth={linePx}>
        <rect x={x + inset} y={y + inset} width={width - linePx} height={height - linePx} rx={linePx} />
        <path d={`M ${middleX} ${y} V ${y + height} M ${x} ${middleY} H ${x + width}`} />
      </g>
    );
  }
  const pane = { width: width / 2 - inset, height: height / 2 - inset, rx: linePx * 0.6 };
  return (
    <g className="light-window light-window-lit">
      <rect x={x} y={y} {...pane} />
      <rect x={middleX + inset} y={y} {...pane} />
      <rect x={x} y={middleY + inset} {...pane} />
      <rect x={middleX + inset} y={middleY + inset} {...pane} />
    </g>
  );
}
