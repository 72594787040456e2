import { Button } from "@mantine/core";
import { ServerProblem } from "@/api/client";
import { Note } from "@/ui/note";
import { useReader } from "@/words/preferences";

const sentence = (text: string) => (/[.!?]$/.test(text) ? text : `${text}.`);

/** What went wrong and what to do about it. */
export function Trouble({ error, again }: { error: unknown; again?: (() => void) | undefined }) {
  const { words } = useReader();
  return (
    <Note
      tone="fault"
      lines={linesOf(error, words.problem)}
      action={
        again && (
          <Button size="xs" variant="default" onClick={again}>
            {words.tryAgain}
          </Button>
        )
      }
    />
  );
}

function linesOf(error: unknown, words: Record<string, string>): string[] {
  if (error instanceof ServerProblem && error.code === "unreachable")
    return [words["unreachable"] ?? "", words["unreachableRemedy"] ?? ""];
  if (error instanceof ServerProblem && error.message) {
    const what = error.where ? `${error.message} (${error.where})` : error.message;
    const first = what.charAt(0).toUpperCase() + what.slice(1);
    return [sentence(first), ...(error.remedy ? [sentence(error.remedy)] : [])];
  }
  return [words["failed"] ?? "", words["failedRemedy"] ?? ""];
}
