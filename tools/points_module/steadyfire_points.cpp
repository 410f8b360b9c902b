// The module that holds OpenTURNS: see tools/study/points_module.hpp.

#include <openturns/ComposedDistribution.hxx>
#include <openturns/CorrelationAnalysis.hxx>
#include <openturns/LHSExperiment.hxx>
#include <openturns/RandomGenerator.hxx>
#include <openturns/Uniform.hxx>

#include "tools/study/points_module.hpp"

namespace {

template <class Work>
bool guarded(std::string* words, Work const& work) {
  try {
    work();
    return true;
  } catch (OT::Exception const& e) { *words = e.what(); } catch (std::exception const& e) {
    *words = e.what();
  }
  return false;
}

}  // namespace

extern "C" {

bool steadyfire_latin_hypercube(std::size_t count, std::size_t dimensions, unsigned seed, double* points, std::string* words) {
  return guarded(words, [&] {
    OT::RandomGenerator::SetSeed(seed);
    OT::ComposedDistribution const cube(OT::Collection<OT::Distribution>(dimensions, OT::Uniform(0, 1)));
    auto const drawn = OT::LHSExperiment(cube, count, true, true).generate();
    for (std::size_t i = 0; i < count; ++i)
      for (std::size_t k = 0; k < dimensions; ++k) *points++ = drawn(i, k);
  });
}

bool steadyfire_rank_influences(std::size_t rows, std::size_t inputs, double const* x, double const* y, double* correlations,
                                double* shares, std::string* words) {
  return guarded(words, [&] {
    OT::Sample in(rows, inputs), out(rows, 1);
    for (std::size_t i = 0; i < rows; ++i) {
      out(i, 0) = y[i];
      for (std::size_t k = 0; k < inputs; ++k) in(i, k) = *x++;
    }
    OT::CorrelationAnalysis const analysis(in, out);
    auto const spearman = analysis.computeSpearmanCorrelation(), rank_regression = analysis.computeSRRC();
    for (std::size_t k = 0; k < inputs; ++k) correlations[k] = spearman[k], shares[k] = rank_regression[k] * spearman[k];
  });
}

}  // extern "C"
