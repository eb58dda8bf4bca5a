import { quickCard } from '../../core/report/quick-card.ts';
import { withTexts } from '../../core/report/sheet.ts';

/** English texts of the card for the wall, each as it stands there. */
export function cardWords(): string[] {
  const texts: string[] = [];
  withTexts(quickCard({ wallMs: Date.UTC(2031, 2, 3, 9), offsetMin: 60 }), (text) => {
    texts.push(text);
    return text;
  });
  return texts;
}
