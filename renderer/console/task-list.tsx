import type { TaskView } from '../../core/protocol/view.ts';
import { clockTime } from '../../core/time/show.ts';
import { Glyph } from '../parts/glyph.tsx';
import { KeyCap } from '../parts/key-cap.tsx';
import './task-list.css';

interface TaskListProps {
  readonly tasks: readonly TaskView[];
  readonly onPress: (task: TaskView, takeBack: boolean) => void;
}

/** What is to be done here, in order, each under its number. */
export function TaskList({ tasks, onPress }: TaskListProps) {
  if (tasks.length === 0) return null;
  return (
    <ol className="tasks" aria-label="to do here">
      {tasks.map((task, index) => (
        <li key={task.id}>
          <button
            type="button"
            className="task"
            data-done={isDone(task)}
            onClick={(event) => onPress(task, event.shiftKey)}
          >
            <KeyCap cap={String(index + 1)} />
            <Glyph name={isDone(task) ? 'done' : 'missing'} />
            <span className="task-words">{task.words}</span>
            <span className="task-who" translate="no">
              {task.done === null ? '' : whoAndWhen(task.done)}
            </span>
            {task.detail !== '' && (
              <span className="task-detail" translate={task.command === 'reactions' ? 'no' : undefined}>
                {task.detail}
              </span>
            )}
            {task.trouble !== null && <span className="task-trouble">{task.trouble}</span>}
          </button>
        </li>
      ))}
    </ol>
  );
}

export const isDone = ({ done, trouble }: TaskView): boolean => done !== null && trouble === null;

const whoAndWhen = ({ by, wallMs, offsetMin }: NonNullable<TaskView['done']>): string =>
  `${by.initials} ${clockTime(wallMs, offsetMin)}`;
