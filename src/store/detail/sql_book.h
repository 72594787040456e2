#pragma once

#include "store/book.h"
#include "store/detail/sql_blobs.h"
#include "store/detail/sql_glass.h"
#include "store/detail/sql_jobs.h"
#include "store/detail/sql_quotes.h"
#include "store/detail/sql_runs.h"
#include "store/detail/sql_shop.h"
#include "store/detail/sql_stock.h"
#include "store/detail/sql_vehicles.h"

namespace film::store::detail {

/// The book over one connection, inside a transaction that the store began.
class SqlBook final : public Book,
                      public SqlShop,
                      public SqlStock,
                      public SqlVehicles,
                      public SqlJobs,
                      public SqlRuns,
                      public SqlGlass,
                      public SqlQuotes,
                      public SqlBlobs {
 public:
  explicit SqlBook(Sql sql)
      : SqlShop(sql),
        SqlStock(sql),
        SqlVehicles(sql),
        SqlJobs(sql),
        SqlRuns(sql),
        SqlGlass(sql),
        SqlQuotes(sql),
        SqlBlobs(sql) {}
};

}  // namespace film::store::detail
