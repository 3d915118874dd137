/** Act now: the only loud thing of the report. Position and words carry it; nothing of it depends on a model. */
import type { VNode } from "preact";
import type { ActNowLine } from "../../interval/month-result.ts";
import { groupName, sentenceCase } from "../group-name.ts";
import { counted, date, whole } from "../number-format.ts";

/** What each kind asks a person to do first; the maintenance data says how. */
const FIRST_STEP: Readonly<Record<ActNowLine["kind"], string>> = {
  "at or over unsafe-at limit": "At or over the unsafe-at limit",
  "fitted at or over replace-at limit": "Still fitted at or over the replace-at limit",
  "look overdue": "Look overdue beyond its tolerance",
  "functional failure": "Functional failure in service",
  "go-back number reached": "Go-back number reached: return to the former interval",
};

function Line({ line }: { line: ActNowLine }): VNode {
  return (
    <li>
      <b>
        {FIRST_STEP[line.kind]}: <bdi>{line.serial}</bdi>, <bdi>{line.where}</bdi>
      </b>
      <bdi>{sentenceCase(line.found)}</bdi>. Limit: <bdi>{line.limit}</bdi>.{" "}
      <span class="source">
        <bdi>{sentenceCase(groupName(line.group))}</bdi> · {date(line.day)} · row <bdi>{line.source}</bdi>
      </span>
    </li>
  );
}

interface ActNowProps {
  readonly lines: readonly ActNowLine[];
  /** How many to show where the full list stands on another page. */
  readonly most?: number;
  /** What is said of a month that no export holds a row of. __Default value:__ null, there are rows of it */
  readonly missing?: string | null;
}

/** The block that stands first on a page. */
export function ActNow({ lines, most = lines.length, missing = null }: ActNowProps): VNode {
  if (lines.length === 0 && missing === null) {
    return (
      <p>
        <b>Nothing to act on now.</b> No row of this month's exports shows a limit reached, a look overdue or
        a functional failure. That is what the rows say; it is not a clearance.
      </p>
    );
  }
  return (
    <section class="act" aria-labelledby="act-now">
      <h2 id="act-now">
        Act now: {missing === null ? "" : "this month's exports, and "}
        {counted(lines.length, "finding")}
      </h2>
      {missing === null ? null : (
        <p>
          <b>{sentenceCase(missing)}</b> Whatever reached a limit, fell due or failed since is not here.
        </p>
      )}
      <ol>
        {lines.slice(0, most).map((line) => (
          <Line key={`${line.kind} ${line.source} ${line.serial}`} line={line} />
        ))}
      </ol>
      {lines.length > most ? (
        <p>
          And {whole(lines.length - most)} more in this group: <a href="index.html">this month</a> has them
          all.
        </p>
      ) : null}
    </section>
  );
}
