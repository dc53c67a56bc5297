#pragma once

#include "assess/fault_table.h"

#include <map>
#include <span>

namespace trivet {

// Puts faults and their outcomes into the names and numbers of rows.
class FaultRows {
public:
    FaultRows(const Design& design, const Analysis& analysis, const FaultOutcome& sound);

    FaultRow row(const FaultCase& fault, const FaultOutcome& outcome);
    std::optional<FaultRow> sound();            // what heats without any fault, if anything does
    std::optional<FaultHeat::Passed> running(); // the limit passed while everything works

private:
    void write_stuck(const FaultOutcome& outcome, FaultRow& row) const;
    void write_heat(const FaultCase& fault, const FaultOutcome& outcome, FaultRow& row);
    void write_excess(const FaultCase& fault, const FaultOutcome& outcome, FaultRow& row) const;
    void write_overload(const FaultCase& fault, const FaultOutcome& outcome, FaultRow& row) const;
    std::vector<BranchId> overloaded_by(const FaultOutcome& outcome) const;
    bool is_battery(BranchId id) const;
    void add_stuck(const StuckOn& stuck, HeatFault& heat, FaultRow& row) const;
    void add_overdriven(const FaultCase& fault, HeatFault& heat, FaultRow& row) const;
    void add_all_cutoffs(const FaultCase& fault, HeatFault& heat) const;
    std::vector<std::uint32_t> working_cutoffs(const StuckOn& stuck, const FaultCase& fault) const;
    std::optional<std::uint32_t> source_of(BranchId heater) const;
    FaultHeat in_words(const HeatOutcome& played) const;
    FaultHeat::Passed in_words(const HeatLimit& limit, Temperature reached) const;
    const Branch& branch(BranchId id) const { return analysis_.circuit.branches[id.value]; }
    const std::string& name_of(BranchId id) const;

    const Design& design_;
    const Analysis& analysis_;
    const FaultOutcome& sound_;
    HeatFaults heat_;
    HeatOutcome without_;                           // any fault
    std::vector<std::string> missing_;              // of the whole thermal description
    std::map<std::uint32_t, std::uint32_t> source_; // by part: index into HeatInputs::parts
    std::map<std::uint32_t, std::uint32_t> cutoff_; // by branch: index into HeatInputs::cutoffs
    std::vector<std::uint32_t> independent_;        // of them: those that end some heat whatever else fails
};

} // namespace trivet
