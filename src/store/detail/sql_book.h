#pragma once

#include "store/book.h"
#include "store/detail/sql_blobs.h"
#include "store/detail/sql_cards.h"
#include "store/detail/sql_customers.h"
#include "store/detail/sql_glass.h"
#include "store/detail/sql_installations.h"
#include "store/detail/sql_invoices.h"
#include "store/detail/sql_jobs.h"
#include "store/detail/sql_people.h"
#include "store/detail/sql_plan.h"
#include "store/detail/sql_quotes.h"
#include "store/detail/sql_runs.h"
#include "store/detail/sql_shop.h"
#include "store/detail/sql_stock.h"
#include "store/detail/sql_vehicles.h"
#include "store/detail/sql_warranties.h"

namespace film::store::detail {

/// The book over one connection, inside a transaction that the store began.
class SqlBook final : public Book,
                      public SqlShop,
                      public SqlStock,
                      public SqlVehicles,
                      public SqlJobs,
                      public SqlRuns,
                      public SqlGlass,
                      public SqlInstallations,
                      public SqlWarranties,
                      public SqlInvoices,
                      public SqlQuotes,
                      public SqlPeople,
                      public SqlPlan,
                      public SqlCards,
                      public SqlCustomers,
                      public SqlBlobs {
 public:
  explicit SqlBook(Sql sql)
      : SqlShop(sql),
        SqlStock(sql),
        SqlVehicles(sql),
        SqlJobs(sql),
        SqlRuns(sql),
        SqlGlass(sql),
        SqlInstallations(sql),
        SqlWarranties(sql),
        SqlInvoices(sql),
        SqlQuotes(sql),
        SqlPeople(sql),
        SqlPlan(sql),
        SqlCards(sql),
        SqlCustomers(sql),
        SqlBlobs(sql) {}
};

}  // namespace film::store::detail
