#include "demo/workplace.h"

namespace film::demo {

std::string_view workplace() {
  return R"({
  "zone": "Europe/Berlin",
  "clock": "2031-05-05T07:30",
  "move_minutes": 15,
  "people_at_a_vehicle": 2,
  "holidays": ["2031-05-22"],
  "skills": ["prepare", "correct paint", "cut film", "install film", "window film", "coat", "inspect"],
  "features": ["clean", "heated"],
  "bays": [
    {"id": "wash bay", "features": []},
    {"id": "film bay 1", "features": ["clean", "heated"]},
    {"id": "film bay 2", "features": ["clean"]}
  ],
  "people": [
    {"id": "Barnaby Quill",
     "skills": {"install film": 3, "window film": 2, "inspect": 3, "prepare": 1},
     "week": {"mon": [{"from": "08:00", "until": "17:00", "breaks": [{"from": "12:00", "until": "12:45"}]}],
              "tue": [{"from": "08:00", "until": "17:00", "breaks": [{"from": "12:00", "until": "12:45"}]}],
              "wed": [{"from": "08:00", "until": "17:00", "breaks": [{"from": "12:00", "until": "12:45"}]}],
              "thu": [{"from": "08:00", "until": "17:00", "breaks": [{"from": "12:00", "until": "12:45"}]}],
              "fri": [{"from": "08:00", "until": "15:00"}]}},
    {"id": "Olma Reedwater",
     "skills": {"install film": 2, "coat": 2, "correct paint": 1, "prepare": 1},
     "week": {"mon": [{"from": "08:00", "until": "17:00", "breaks": [{"from": "12:00", "until": "12:45"}]}],
              "tue": [{"from": "08:00", "until": "17:00", "breaks": [{"from": "12:00", "until": "12:45"}]}],
              "wed": [{"from": "08:00", "until": "17:00", "breaks": [{"from": "12:00", "until": "12:45"}]}],
              "thu": [{"from": "08:00", "until": "17:00", "breaks": [{"from": "12:00", "until": "12:45"}]}],
              "fri": [{"from": "08:00", "until": "15:00"}]}},
    {"id": "Tivek Sorrel",
     "skills": {"install film": 2, "cut film": 2, "prepare": 1, "inspect": 1},
     "week": {"mon": [{"from": "07:30", "until": "16:00", "breaks": [{"from": "11:30", "until": "12:15"}]}],
              "tue": [{"from": "07:30", "until": "16:00", "breaks": [{"from": "11:30", "until": "12:15"}]}],
              "wed": [{"from": "07:30", "until": "16:00", "breaks": [{"from": "11:30", "until": "12:15"}]}],
              "thu": [{"from": "07:30", "until": "16:00", "breaks": [{"from": "11:30", "until": "12:15"}]}],
              "fri": [{"from": "07:30", "until": "14:00"}]}},
    {"id": "Ysa Marling",
     "skills": {"prepare": 2, "correct paint": 2, "cut film": 1, "window film": 2, "coat": 1},
     "week": {"mon": [{"from": "08:00", "until": "13:00"}],
              "tue": [{"from": "08:00", "until": "13:00"}],
              "wed": [{"from": "08:00", "until": "13:00"}],
              "thu": [{"from": "08:00", "until": "13:00"}]}}
  ]
})";
}

std::vector<Booking> bookings() {
  return {
      {R"({"id": "P-0001", "title": "Teal pickup", "scope": {"badges": true,
           "zones": [{"id": "front", "hours": 5, "bulk": true}, {"id": "sills", "hours": 2.5}]}})",
       "2031-05-05T08:00", "2031-05-07T12:30"},
      {R"({"id": "P-0002", "title": "Plum hatchback", "scope": {"coats": 1, "correction_hours": 2,
           "zones": [{"id": "doors", "hours": 4}], "lamps": [{"id": "front lamps", "hours": 1}]}})",
       "2031-05-05T10:00", "2031-05-08T16:30"},
      {R"({"id": "P-0003", "title": "White van", "scope": {
           "windows": [{"id": "rear door", "hours": 1.5}, {"id": "sides", "hours": 2.5}]}})",
       "2031-05-06T08:00", "2031-05-07T16:30"},
  };
}

Booking first_order_times() { return {"", "2031-05-06T08:00", "2031-05-16T14:30"}; }

}  // namespace film::demo
