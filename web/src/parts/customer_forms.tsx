import { Select, TextInput } from "@mantine/core";
import { useMutation, useQuery, useQueryClient } from "@tanstack/react-query";
import { useState } from "react";
import { answerOf, client } from "@/api/client";
import type { components } from "@/api/schema.gen";
import { useVehicles } from "@/api/queries";
import { Note } from "@/ui/note";
import { useReader } from "@/words/preferences";
import { EntryForm } from "./entry_form";
import { Trouble } from "./trouble";

export type Customer = components["schemas"]["Customer"];
export type CustomerVehicle = components["schemas"]["CustomerVehicle"];

export const noCustomer: Customer = {
  id: "",
  name: "",
  phone: "",
  email: "",
  address: "",
  language: "en",
  revision: 1,
};
export const noVehicle: CustomerVehicle = {
  id: "",
  customer: "",
  model: "",
  plate: "",
  vin: "",
  vin_reason: "",
  note: "",
  revision: 1,
};

/** Keeps a record of the customers; what was read of them is asked again. */
function useKeeping<Kept>(keep: () => Promise<Kept>, onKept?: (kept: Kept) => void) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: keep,
    onSuccess: async (kept) => {
      await queries.invalidateQueries({ queryKey: ["customers"] });
      await queries.invalidateQueries({ queryKey: ["customer"] });
      onKept?.(kept);
    },
  });
}

interface CustomerFormProps {
  customer: Customer;
  onKept?: (kept: Customer) => void;
}

export function CustomerForm({ customer, onKept }: CustomerFormProps) {
  const { words } = useReader();
  const [draft, setDraft] = useState(customer);
  const keeping = useKeeping(() => {
    const { id, revision, ...body } = draft;
    return id
      ? answerOf(
          client.POST("/customers/{customer}", {
            params: { path: { customer: id } },
            body: { ...body, revision },
          }),
        )
      : answerOf(client.POST("/customers", { body }));
  }, onKept);
  const field = (name: "name" | "phone" | "email" | "address") => (
    <TextInput
      label={words.customers[name]}
      value={draft[name]}
      required={name === "name"}
      onChange={(event) => setDraft({ ...draft, [name]: event.currentTarget.value })}
    />
  );
  return (
    <EntryForm
      submit={words.people.save}
      onSubmit={() => keeping.mutate()}
      busy={keeping.isPending}
      error={keeping.error}
    >
      {field("name")}
      {field("phone")}
      {field("email")}
      {field("address")}
      <Select
        label={words.customers.language}
        data={[
          { value: "en", label: "English" },
          { value: "de", label: "Deutsch" },
        ]}
        value={draft.language}
        onChange={(language) => setDraft({ ...draft, language: language === "de" ? "de" : "en" })}
        allowDeselect={false}
      />
    </EntryForm>
  );
}

interface VehicleFormProps {
  vehicle: CustomerVehicle;
  onKept?: (kept: CustomerVehicle) => void;
}

export function VehicleForm({ vehicle, onKept }: VehicleFormProps) {
  const { words } = useReader();
  const models = useVehicles();
  const [draft, setDraft] = useState(vehicle);
  const keeping = useKeeping(() => {
    const { id, customer, revision, ...body } = draft;
    return id
      ? answerOf(
          client.POST("/customer-vehicles/{vehicle}", {
            params: { path: { vehicle: id } },
            body: { ...body, revision },
          }),
        )
      : answerOf(
          client.POST("/customers/{customer}/vehicles", { params: { path: { customer } }, body }),
        );
  }, onKept);
  const field = (name: "plate" | "vin" | "vin_reason" | "note") => (
    <TextInput
      label={words.customers[name]}
      value={draft[name]}
      onChange={(event) => setDraft({ ...draft, [name]: event.currentTarget.value })}
    />
  );
  return (
    <EntryForm
      submit={words.people.save}
      onSubmit={() => keeping.mutate()}
      busy={keeping.isPending}
      error={keeping.error}
    >
      {field("plate")}
      {field("vin")}
      <VinCheck vin={draft.vin} />
      {field("vin_reason")}
      <Select
        label={words.customers.model}
        data={models.data?.map(({ id, name }) => ({ value: id, label: name })) ?? []}
        value={draft.model || null}
        onChange={(model) => setDraft({ ...draft, model: model ?? "" })}
        clearable
      />
      {field("note")}
    </EntryForm>
  );
}

/** Says while it is typed whether the check digit of a whole VIN fits. */
function VinCheck({ vin }: { vin: string }) {
  const whole = vin.replace(/[ -]/g, "").length === 17;
  const check = useQuery({
    queryKey: ["vin", vin],
    queryFn: () => answerOf(client.GET("/vins/{vin}", { params: { path: { vin } } })),
    enabled: whole,
  });
  if (!whole) return null;
  if (check.error) return <Trouble error={check.error} />;
  const problem = check.data?.problem;
  return problem ? <Note tone="caution" lines={[problem.message, problem.remedy]} /> : null;
}
