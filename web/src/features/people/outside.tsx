import { Select, TextInput } from "@mantine/core";
import { useState } from "react";
import { useQuery } from "@tanstack/react-query";
import { answerOf, client } from "@/api/client";
import { EntryForm, textsOf } from "@/parts/entry_form";
import { PasswordField } from "@/parts/password_field";
import { Trouble } from "@/parts/trouble";
import { useReader } from "@/words/preferences";
import { signIn, useSessionChange } from "./session";
import classes from "./people.module.css";

export function SignIn() {
  const { words } = useReader();
  const door = useSessionChange(signIn);
  return (
    <main className={classes.door}>
      <h1>{words.people.signIn}</h1>
      <EntryForm
        submit={words.people.signIn}
        onSubmit={(form) => door.mutate(textsOf(form))}
        busy={door.isPending}
        error={door.error}
      >
        <TextInput
          name="sign_in"
          label={words.people.signInName}
          autoComplete="username"
          required
        />
        <PasswordField
          name="password"
          label={words.people.password}
          autoComplete="current-password"
          required
        />
      </EntryForm>
    </main>
  );
}

type Start = Parameters<typeof makeOwner>[0];

const makeOwner = (body: {
  token: string;
  shop: string;
  currency: string;
  length_unit: "mm" | "in";
  name: string;
  sign_in: string;
  password: string;
}) => answerOf(client.POST("/first-start", { body }));

export function FirstStart() {
  const { words, unit } = useReader();
  const [length, setLength] = useState<string | null>(unit);
  const start = useSessionChange(async (order: Start) => {
    await makeOwner(order);
    history.replaceState(null, "", "/");
  });
  const submit = (form: HTMLFormElement) =>
    start.mutate({
      ...(textsOf(form) as Omit<Start, "length_unit">),
      length_unit: length === "mm" ? "mm" : "in",
    });
  return (
    <main className={classes.door}>
      <h1>{words.people.firstStart}</h1>
      <p>{words.people.firstStartText}</p>
      <EntryForm
        submit={words.people.begin}
        onSubmit={submit}
        busy={start.isPending}
        error={start.error}
      >
        <TextInput
          name="token"
          label={words.people.token}
          description={words.people.tokenText}
          defaultValue={location.hash.slice(1)}
          required
        />
        <TextInput name="shop" label={words.people.shop} required />
        <TextInput
          name="currency"
          label={words.people.currency}
          defaultValue="EUR"
          maxLength={3}
          required
        />
        <Select
          label={words.settings.unit}
          data={["in", "mm"]}
          value={length}
          onChange={setLength}
          allowDeselect={false}
        />
        <TextInput name="name" label={words.people.name} autoComplete="name" required />
        <TextInput
          name="sign_in"
          label={words.people.signInName}
          autoComplete="username"
          required
        />
        <PasswordField
          name="password"
          label={words.people.password}
          description={words.people.passwordText}
          autoComplete="new-password"
          required
        />
      </EntryForm>
    </main>
  );
}

/** What a customer sees through a link. */
export function SharedPage({ token }: { token: string }) {
  const { words } = useReader();
  const shared = useQuery({
    queryKey: ["shared", token],
    queryFn: () => answerOf(client.GET("/shared/{token}", { params: { path: { token } } })),
  });
  if (shared.error)
    return (
      <main className={classes.door}>
        <Trouble error={shared.error} />
      </main>
    );
  if (!shared.data) return null;
  const { shop, title, vehicle, state, covered, quote } = shared.data;
  return (
    <main className={classes.page}>
      <header>
        <p>{shop}</p>
        <h1>{title}</h1>
        <p>
          {vehicle} · {words.states[state]}
        </p>
      </header>
      <ul className={classes.covered}>
        {covered.map(({ panel, film }) => (
          <li key={panel}>
            {panel}: {film}
          </li>
        ))}
      </ul>
      {quote && (
        <p>
          <a href={`/api/v1/shared/${encodeURIComponent(token)}/quote.pdf`}>
            {words.offerPage.paper} {quote} (PDF)
          </a>
        </p>
      )}
    </main>
  );
}
