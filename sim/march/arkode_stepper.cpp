/// ARKODE's ESDIRK 3(2), with parts of our own behind its interfaces: the packaged
/// library is compiled without optimisation, and none of its solvers knows that between
/// events a heat balance is nearly a straight line.

#include <arkode/arkode_arkstep.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_nonlinearsolver.h>

#include <cmath>
#include <cstring>

#include "sim/control/transitions.hpp"
#include "sim/march/stepper.hpp"

namespace steadyfire {
namespace {

/// The library's serial vector, the five operations of the inner loop replaced.
N_Vector serial_vector(int size, SUNContext context) {
  N_Vector const v = N_VNew_Serial(size, context);
  v->ops->nvlinearsum = [](realtype a, N_Vector x, realtype b, N_Vector y, N_Vector z) {
    auto const n = NV_LENGTH_S(x);
    double const *const px = NV_DATA_S(x), *const py = NV_DATA_S(y);
    double* const pz = NV_DATA_S(z);
    for (sunindextype i = 0; i < n; ++i) pz[i] = a * px[i] + b * py[i];
  };
  v->ops->nvconst = [](realtype c, N_Vector z) { std::fill_n(NV_DATA_S(z), NV_LENGTH_S(z), c); };
  v->ops->nvscale = [](realtype c, N_Vector x, N_Vector z) {
    auto const n = NV_LENGTH_S(x);
    double const* const px = NV_DATA_S(x);
    double* const pz = NV_DATA_S(z);
    if (c == 1) { if (px != pz) std::memcpy(pz, px, n * sizeof *pz); }
    else for (sunindextype i = 0; i < n; ++i) pz[i] = c * px[i];
  };
  v->ops->nvwrmsnorm = [](N_Vector x, N_Vector w) -> realtype {
    auto const n = NV_LENGTH_S(x);
    double const *const px = NV_DATA_S(x), *const pw = NV_DATA_S(w);
    double part[4]{};  // four sums, that they may run side by side
    sunindextype i = 0;
    for (; i + 4 <= n; i += 4)
      for (int lane = 0; lane < 4; ++lane) part[lane] += (px[i + lane] * pw[i + lane]) * (px[i + lane] * pw[i + lane]);
    for (; i < n; ++i) part[0] += (px[i] * pw[i]) * (px[i] * pw[i]);
    return std::sqrt((part[0] + part[1] + part[2] + part[3]) / double(n));
  };
  v->ops->nvlinearcombination = [](int count, realtype* c, N_Vector* x, N_Vector z) {
    auto const n = NV_LENGTH_S(z);
    double* const pz = NV_DATA_S(z);
    double const* const first = NV_DATA_S(x[0]);  // may be z itself; no other is
    for (sunindextype i = 0; i < n; ++i) pz[i] = c[0] * first[i];
    for (int k = 1; k < count; ++k) {
      double const* const px = NV_DATA_S(x[k]);
      for (sunindextype i = 0; i < n; ++i) pz[i] += c[k] * px[i];
    }
    return 0;
  };
  return v;
}

class ArkodeStepper final : public Stepper {
 public:
  ArkodeStepper(Stage& stage, MarchOptions const& options, MarchStatistics& statistics)
      : stage_{stage}, statistics_{statistics}, slots_{guard_slots(stage.plan)} {
    check(SUNContext_Create(nullptr, &context_));
    y_ = serial_vector(stage.plan.places(), context_);
    x = NV_DATA_S(y_);
    std::copy(stage.plan.start.begin(), stage.plan.start.end(), NV_DATA_S(y_));
    memory_ = ARKStepCreate(nullptr, &rates, 0, y_, context_);
    if (!memory_) throw InternalError("ARKODE could not be made");
    nonlinear_ = SUNNonlinSolNewEmpty(context_);
    nonlinear_->content = this;
    nonlinear_->ops->gettype = [](SUNNonlinearSolver) { return SUNNONLINEARSOLVER_ROOTFIND; };
    nonlinear_->ops->setsysfn = [](SUNNonlinearSolver, SUNNonlinSolSysFn) { return 0; };  // Stage knows its system
    nonlinear_->ops->solve = &solve_stage;
    check(ARKStepSetErrHandlerFn(memory_, &listen, this));
    check(ARKStepSetUserData(memory_, this));
    check(ARKStepWFtolerances(memory_, [](N_Vector, N_Vector w, void* me) {
      auto const& weights = static_cast<ArkodeStepper*>(me)->stage_.weights();
      std::copy(weights.begin(), weights.end(), NV_DATA_S(w));
      return 0;
    }));
    check(ARKStepSetTableNum(memory_, ARKODE_ARK324L2SA_DIRK_4_2_3, ARKODE_ERK_NONE));
    check(ARKStepSetNonlinearSolver(memory_, nonlinear_));
    check(ARKStepSetDeduceImplicitRhs(memory_, SUNTRUE));
    check(ARKStepSetPredictorMethod(memory_, 0));
    check(ARKStepSetMaxStep(memory_, options.longest_step));
    double constexpr growth = 20;
    check(ARKStepSetMaxFirstGrowth(memory_, growth));
    check(ARKStepSetMaxGrowth(memory_, growth));
    if (slots_) {
      check(ARKStepRootInit(memory_, slots_, &guards));
      std::vector<int> rising(slots_, 1);
      check(ARKStepSetRootDirection(memory_, rising.data()));
      check(ARKStepSetNoInactiveRootWarn(memory_));
    }
  }
  ~ArkodeStepper() override {
    ARKStepFree(&memory_);
    SUNNonlinSolFreeEmpty(nonlinear_);  // its content is this object
    N_VDestroy(y_);
    SUNContext_Free(&context_);
  }
  ArkodeStepper(ArkodeStepper const&) = delete;

  void restart(double at, double const* from, double first_step) override {
    time = at;
    std::copy(from, from + stage_.plan.places(), NV_DATA_S(y_));
    check(ARKStepReset(memory_, time, y_));
    check(ARKStepSetInitStep(memory_, first_step));
  }

  End step(double stop) override {
    check(ARKStepSetStopTime(memory_, stop));
    double const from = time;
    int const flag = ARKStepEvolve(memory_, stop, y_, &time, ARK_ONE_STEP);
    smuggler_.deliver();
    if (flag < 0 || !(time > from)) stop_unconverged(stage_, from, x, said_);  // below rounding it goes on without moving
    ++statistics_.steps;
    return flag == ARK_ROOT_RETURN ? End::root : flag == ARK_TSTOP_RETURN ? End::stop : End::step;
  }

  void look_back(double at, double* into) override {
    N_Vector const v = N_VMake_Serial(stage_.plan.places(), into, context_);
    int const flag = ARKStepGetDky(memory_, at, 0, v);
    N_VDestroy(v);
    check(flag);
  }

  void found(bool* slots) override {
    std::vector<int> rising(slots_);
    check(ARKStepGetRootInfo(memory_, rising.data()));
    for (int i = 0; i < slots_; ++i) slots[i] = rising[i] > 0;
  }

 private:
  void check(int flag) {
    if (flag < 0) throw InternalError("ARKODE refused: " + said_);
  }
  static int rates(double t, N_Vector y, N_Vector f, void* me) {
    auto& self = *static_cast<ArkodeStepper*>(me);
    return self.smuggler_([&] { self.stage_.rates(t, NV_DATA_S(y), NV_DATA_S(f)); });
  }
  static int guards(double t, N_Vector y, double* margin, void* me) {
    auto& self = *static_cast<ArkodeStepper*>(me);
    return self.smuggler_([&] { margins(self.stage_.plan, self.stage_.now(t, NV_DATA_S(y)), margin); });
  }
  static int solve_stage(SUNNonlinearSolver solver, N_Vector base, N_Vector change, N_Vector, realtype tolerance, booleantype, void*) {
    auto& self = *static_cast<ArkodeStepper*>(solver->content);
    double t, gamma;
    N_Vector predicted, z, f, data;
    void* user;
    if (ARKStepGetNonlinearSystemData(self.memory_, &t, &predicted, &z, &f, &gamma, &data, &user) != 0) return SUN_NLS_MEM_NULL;
    bool met = false;
    auto const solve = [&] { met = self.stage_.solve(t, gamma, NV_DATA_S(base), NV_DATA_S(data), tolerance, NV_DATA_S(change)); };
    if (self.smuggler_(solve) != 0) return -1;
    return met ? SUN_NLS_SUCCESS : SUN_NLS_CONV_RECVR;
  }
  static void listen(int, char const*, char const*, char* message, void* me) {
    static_cast<ArkodeStepper*>(me)->said_ = message;
  }

  Stage& stage_;
  MarchStatistics& statistics_;
  int slots_;
  SUNContext context_ = nullptr;
  N_Vector y_ = nullptr;
  void* memory_ = nullptr;
  SUNNonlinearSolver nonlinear_ = nullptr;
  Smuggler smuggler_;
  std::string said_;
};

}  // namespace

std::unique_ptr<Stepper> arkode_stepper(Stage& stage, MarchOptions const& options, MarchStatistics& statistics) {
  return std::make_unique<ArkodeStepper>(stage, options, statistics);
}

}  // namespace steadyfire
