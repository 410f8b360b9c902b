/// ARKODE's ESDIRK 3(2), with parts of our own behind its interfaces: the packaged
/// library is compiled without optimisation, and none of its solvers knows that between
/// events a heat balance is nearly a straight line.

#include <arkode/arkode_arkstep.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_nonlinearsolver.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>

#include "sim/control/transitions.hpp"
#include "sim/march/loops.hpp"
#include "sim/march/stepper.hpp"

namespace steadyfire {
namespace {

/// The library's serial vector, the operations of the inner loop replaced; over memory of its own, or over this.
N_Vector serial_vector(int size, SUNContext context, double* data = nullptr) {
  N_Vector const v = data ? N_VMake_Serial(size, data, context) : N_VNew_Serial(size, context);
  v->ops->nvlinearsum = [](realtype a, N_Vector x, realtype b, N_Vector y, N_Vector z) {
    loops::sum(int(NV_LENGTH_S(x)), a, NV_DATA_S(x), b, NV_DATA_S(y), NV_DATA_S(z));
  };
  v->ops->nvconst = [](realtype c, N_Vector z) { std::fill_n(NV_DATA_S(z), NV_LENGTH_S(z), c); };
  v->ops->nvscale = [](realtype c, N_Vector x, N_Vector z) {
    auto const n = NV_LENGTH_S(x);
    if (c != 1) loops::scale(int(n), c, NV_DATA_S(x), NV_DATA_S(z));
    else if (x != z) std::memcpy(NV_DATA_S(z), NV_DATA_S(x), n * sizeof(double));
  };
  v->ops->nvwrmsnorm = [](N_Vector x, N_Vector w) -> realtype {
    auto const n = NV_LENGTH_S(x);
    return std::sqrt(loops::weighted_square(int(n), NV_DATA_S(x), NV_DATA_S(w)) / double(n));
  };
  v->ops->nvlinearcombination = [](int count, realtype* c, N_Vector* x, N_Vector z) {
    int constexpr most = 16;
    std::array<double const*, most> from;
    if (count > most) return -1;
    for (int k = 0; k < count; ++k) from[k] = NV_DATA_S(x[k]);  // the first may be z itself; no other is
    loops::combine(int(NV_LENGTH_S(z)), count, c, from.data(), NV_DATA_S(z));
    return 0;
  };
  return v;
}

class ArkodeStepper final : public Stepper {
 public:
  ArkodeStepper(Stage& stage, MarchOptions const& options, MarchStatistics& statistics)
      : stage_{stage}, statistics_{statistics}, slots_{guard_slots(stage.plan)}, margins_(slots_) {
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
    // After an event small steps meet fronts, soon long ones a calm house: the step grows as fast as its error allows
    // (an I controller), not as fast as that of the last two did.
    double constexpr growth = 60, not_worth_it = 1.2;
    int constexpr by_last_error = 2;
    check(ARKStepSetAdaptivityMethod(memory_, by_last_error, 1, 0, nullptr));
    check(ARKStepSetFixedStepBounds(memory_, 1, not_worth_it));
    check(ARKStepSetMaxFirstGrowth(memory_, growth));
    check(ARKStepSetMaxGrowth(memory_, growth));
    if (slots_) {
      int rising = 1;
      check(ARKStepRootInit(memory_, 1, &highest_margin));
      check(ARKStepSetRootDirection(memory_, &rising));
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
    N_Vector const v = serial_vector(stage_.plan.places(), context_, into);
    int const flag = ARKStepGetDky(memory_, at, 0, v);
    N_VDestroy(v);
    check(flag);
  }

  void found(bool* slots) override {
    stage_.margins(time, x, margins_.data());
    double const highest = *std::max_element(margins_.begin(), margins_.end());
    for (int i = 0; i < slots_; ++i) slots[i] = margins_[i] >= std::min(0.0, highest);
  }

 private:
  void check(int flag) {
    if (flag < 0) throw InternalError("ARKODE refused: " + said_);
  }
  static int rates(double t, N_Vector y, N_Vector f, void* me) {
    auto& self = *static_cast<ArkodeStepper*>(me);
    return self.smuggler_([&] { self.stage_.rates(t, NV_DATA_S(y), NV_DATA_S(f)); });
  }
  /// Since all margins are negative between events, the first to reach zero is where the highest does: the library keeps
  /// account of one function instead of a hundred.
  static int highest_margin(double t, N_Vector y, double* highest, void* me) {
    auto& self = *static_cast<ArkodeStepper*>(me);
    return self.smuggler_([&] {
      self.stage_.margins(t, NV_DATA_S(y), self.margins_.data());
      *highest = *std::max_element(self.margins_.begin(), self.margins_.end());
    });
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
  std::vector<double> margins_;
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
