#include "spool/line.h"

#include <filesystem>
#include <fstream>

#include <fcntl.h>
#include <gtest/gtest.h>
#include <stdlib.h>
#include <termios.h>
#include <unistd.h>

namespace film::spool {
namespace {

cutting::Link link_to(const std::string& address) {
  cutting::Link link;
  link.address = address;
  link.patience = Seconds{1};
  return link;
}

ErrorCode refused(const std::string& address) {
  const auto line = Line::open(link_to(address));
  EXPECT_FALSE(line) << address;
  return line ? ErrorCode::cancelled : line.error().code;
}

TEST(LineTest, WhatIsNoMachineIsRefusedByName) {
  for (const char* address : {"", "serial:", "tcp:", "tcp:host", "tcp:host:", "tcp::9", "lpt1",
                              "file:/tmp/x", "serial:/dev/null"}) {
    EXPECT_EQ(refused(address), ErrorCode::invalid_input) << address;
  }
  EXPECT_EQ(refused("serial:/dev/no-such-line"), ErrorCode::not_found);
  EXPECT_EQ(refused("tcp:127.0.0.1:1"), ErrorCode::io);
  const std::string plain = FILM_BINARY_DIR "/plain_file";
  std::ofstream(plain) << "precious";
  EXPECT_EQ(refused("device:" + plain), ErrorCode::invalid_input);
  EXPECT_EQ(std::filesystem::file_size(plain), 8u);
}

TEST(LineTest, AFullDeviceIsAnError) {
  auto line = Line::open(link_to("device:/dev/full")).value();
  std::string input;
  const auto wrote = line.exchange("PU0,0;", input, 1);
  ASSERT_FALSE(wrote);
  EXPECT_EQ(wrote.error().code, ErrorCode::io);
  EXPECT_NE(wrote.error().what.find("No space left"), std::string::npos) << wrote.error().what;
}

/// A pseudo-terminal: `master` is the machine's end.
struct Terminal {
  int master = ::posix_openpt(O_RDWR | O_NOCTTY | O_NONBLOCK);
  std::string name;
  Terminal() {
    ::grantpt(master);
    ::unlockpt(master);
    name = ::ptsname(master);
  }
  ~Terminal() { unplug(); }
  void unplug() {
    if (master >= 0) ::close(master);
    master = -1;
  }
  termios settings() const {
    termios now{};
    ::tcgetattr(master, &now);
    return now;
  }
};

TEST(LineTest, ASerialLineIsSetUpAsItsProfileSays) {
  Terminal terminal;
  auto link = link_to("serial:" + terminal.name);
  link.baud = 38400;
  link.flow = cutting::Flow::rts_cts;
  {
    const auto line = Line::open(link);
    ASSERT_TRUE(line) << line.error().message();
    const termios now = terminal.settings();
    EXPECT_EQ(::cfgetospeed(&now), static_cast<speed_t>(B38400));
    EXPECT_NE(now.c_cflag & CRTSCTS, 0u);
    EXPECT_EQ(now.c_cflag & CSIZE, static_cast<tcflag_t>(CS8));
    EXPECT_EQ(now.c_cflag & (PARENB | CSTOPB), 0u);
    EXPECT_EQ(now.c_iflag & (IXON | IXOFF | ICRNL | ISTRIP), 0u);
    EXPECT_EQ(now.c_oflag & OPOST, 0u);
    EXPECT_EQ(now.c_lflag & (ECHO | ICANON | ISIG), 0u);
  }
  link.flow = cutting::Flow::xon_xoff;
  const auto line = Line::open(link);
  ASSERT_TRUE(line);
  EXPECT_EQ(terminal.settings().c_iflag & (IXON | IXOFF), static_cast<tcflag_t>(IXON | IXOFF));
  EXPECT_EQ(terminal.settings().c_cflag & CRTSCTS, 0u);
  link.baud = 12345;
  EXPECT_EQ(Line::open(link).error().code, ErrorCode::invalid_input);
}

TEST(LineTest, XoffHoldsTheLineAndXonLetsItGoOn) {
  Terminal terminal;
  auto link = link_to("serial:" + terminal.name);
  link.flow = cutting::Flow::xon_xoff;
  auto line = Line::open(link).value();
  std::string input;
  EXPECT_EQ(line.exchange("a", input, 0.5).value(), 1u);
  ASSERT_EQ(::write(terminal.master, "\x13", 1), 1);
  EXPECT_EQ(line.exchange("b", input, 0.1).value(), 0u);
  ASSERT_EQ(::write(terminal.master, "\x11", 1), 1);
  EXPECT_EQ(line.exchange("b", input, 0.5).value(), 1u);
  EXPECT_EQ(input, "");  // the two characters are no answers
}

TEST(LineTest, AMachineThatIsUnpluggedIsNoticed) {
  Terminal terminal;
  auto line = Line::open(link_to("serial:" + terminal.name)).value();
  terminal.unplug();
  std::string input;
  EXPECT_EQ(line.exchange("x", input, 0.5).error().code, ErrorCode::io);
}

TEST(LineTest, AMachineHasOneUserAndALinkToItIsTheSameMachine) {
  Terminal terminal;
  const std::string other = FILM_BINARY_DIR "/port_link";
  std::filesystem::remove(other);
  std::filesystem::create_symlink(terminal.name, other);
  auto lock = MachineLock::take("serial:" + terminal.name);
  ASSERT_TRUE(lock);
  EXPECT_EQ(MachineLock::take("device:" + other).error().code, ErrorCode::conflict);
  EXPECT_TRUE(MachineLock::take("tcp:elsewhere:9100"));
  lock = MachineLock::take("tcp:third:9100");
  EXPECT_TRUE(MachineLock::take("device:" + other));
}

}  // namespace
}  // namespace film::spool
