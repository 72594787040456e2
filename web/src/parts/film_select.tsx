import { Select } from "@mantine/core";
import type { Film, Job } from "@/api/client";
import { useReader } from "@/words/preferences";
import classes from "./parts.module.css";

interface FilmSelectProps {
  job: Job;
  films: readonly Film[] | undefined;
  film: string;
  onFilm: (film: string) => void;
}

/** Which of the job's films is looked at. */
export function FilmSelect({ job, films, film, onFilm }: FilmSelectProps) {
  const { words } = useReader();
  const named = (id: string) => films?.find((one) => one.id === id);
  return (
    <Select
      label={words.rollPage.film}
      value={film}
      onChange={(value) => value !== null && onFilm(value)}
      allowDeselect={false}
      data={job.films.map(({ film: id }) => ({ value: id, label: named(id)?.name ?? id }))}
      renderOption={({ option }) => (
        <span className={classes.option}>
          <i style={{ background: named(option.value)?.colour }} aria-hidden="true" />
          {option.label}
        </span>
      )}
    />
  );
}
