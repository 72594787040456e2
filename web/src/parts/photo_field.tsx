import { Button, FileButton } from "@mantine/core";
import { useKeepPhoto } from "@/api/installation_queries";
import { useReader } from "@/words/preferences";
import { Trouble } from "./trouble";
import classes from "./parts.module.css";

export const photoAddress = (hash: string) => `/api/v1/photos/${encodeURIComponent(hash)}`;

interface PhotoFieldProps {
  job: string;
  /** What the photo shows. */
  about: string;
  photos: readonly string[];
  onAdd: (hash: string) => void;
}

/** Photos taken for a finding: kept at once, named by their content. */
export function PhotoField({ job, about, photos, onAdd }: PhotoFieldProps) {
  const { words } = useReader();
  const keep = useKeepPhoto(job);
  return (
    <div className={classes.photos}>
      <Photos photos={photos} about={about} />
      <FileButton
        accept="image/jpeg,image/png"
        inputProps={{ capture: "environment", "aria-label": `${words.addPhoto}: ${about}` }}
        onChange={(photo) =>
          photo && keep.mutate({ photo, about }, { onSuccess: ({ hash }) => onAdd(hash) })
        }
      >
        {(button) => (
          <Button
            variant="default"
            size="sm"
            loading={keep.isPending}
            aria-label={`${words.addPhoto}: ${about}`}
            {...button}
          >
            {words.addPhoto}
          </Button>
        )}
      </FileButton>
      {keep.error && <Trouble error={keep.error} again={() => keep.reset()} />}
    </div>
  );
}

/** Kept photos in a row; each opens whole. */
export function Photos({ photos, about }: { photos: readonly string[]; about: string }) {
  return photos.map((hash, index) => (
    <a key={hash} href={photoAddress(hash)} target="_blank" rel="noreferrer">
      <img src={photoAddress(hash)} alt={`${about}, ${index + 1}`} loading="lazy" />
    </a>
  ));
}
