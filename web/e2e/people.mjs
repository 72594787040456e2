import { expect, expectAccessible, expectNoOverflow } from "./watch.mjs";

/** Customers with their vehicles, people, and what a role may not do. */
export const people = [
  {
    name: "people: a customer's vehicle, its VIN explained, then another role",
    async run({ page, picture, faults }) {
      await page.goto("/customers");
      await page.getByRole("button", { name: "Add a customer" }).click();
      await page.getByRole("textbox", { name: "Name", exact: true }).fill("Ottoline Brambleby");
      await page.getByLabel("E-mail").fill("ottoline@shop.example");
      await page.getByRole("button", { name: "Save" }).click();
      await page.getByRole("heading", { name: /^Ottoline Brambleby · K-/ }).waitFor();
      await page.getByRole("button", { name: "Add a vehicle" }).click();
      await page.getByLabel("Plate", { exact: true }).fill("fw 207");
      await page.getByRole("textbox", { name: "VIN", exact: true }).fill("11111111511111111");
      await page.getByText(/position 9 is '5'.*ask for '1'/).waitFor();
      await page.getByRole("textbox", { name: "VIN", exact: true }).fill("11111111111111111");
      await page.getByRole("button", { name: "Save" }).last().click();
      await page.getByRole("heading", { name: /^FW 207 · V-/ }).waitFor();
      await expectAccessible(page);
      await expectNoOverflow(page);
      await picture("customers");

      await page.goto("/people");
      await page.getByRole("heading", { name: "Everyone" }).waitFor();
      await page.getByRole("button", { name: "Save" }).first().waitFor();
      await expectAccessible(page);
      await picture("people");

      await page.getByRole("button", { name: /, lead$/ }).click();
      await page.getByRole("menuitem", { name: "Me and my password" }).click();
      await page.getByLabel("Password until now").fill("never was this one");
      await page.getByLabel(/^New password(?!,)/).fill("kelp anvil harbour");
      await page.getByLabel("New password, once more").fill("kelp anvil harbor");
      await page.getByText("This is not the same.").waitFor();
      await expectAccessible(page);
      await picture("me");

      await page.getByRole("button", { name: /, lead$/ }).click();
      await page.getByRole("menuitem", { name: /looks only$/ }).click();
      await page.getByRole("button", { name: /, looks only$/ }).waitFor();
      expect(faults.length === 0, faults.join("\n"));
      await page.goto("/customers");
      await page.getByRole("button", { name: "Add a customer" }).click();
      await page.getByRole("textbox", { name: "Name", exact: true }).fill("Nobody");
      await page.getByRole("button", { name: "Save" }).click();
      await page.getByText(/this is not for the role/i).waitFor();
      // The refusal is what was asked for.
      expect(
        faults.some((fault) => fault.includes("403")),
        "the server allowed it",
      );
      faults.length = 0;
    },
  },
];
