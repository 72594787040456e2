import { Button } from "@mantine/core";
import { ServerProblem } from "@/api/client";
import { Note } from "@/ui/note";
import { sentence } from "@/words/format";
import { useReader } from "@/words/preferences";

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
    return [sentence(what), ...(error.remedy ? [sentence(error.remedy)] : [])];
  }
  return [words["failed"] ?? "", words["failedRemedy"] ?? ""];
}
