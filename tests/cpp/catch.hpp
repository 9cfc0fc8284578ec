#pragma once
// Catch2 3 where it is installed, Catch2 2 otherwise (Debian 12).
#if __has_include(<catch2/catch_all.hpp>)
#include <catch2/catch_all.hpp>
using Catch::Approx;
#else
#include <catch2/catch.hpp>
#endif
